#include <numbers>
#include <set>

#include "dxf_file.hpp"
#include "dxf_spline.hpp"
#include "layers.hpp"
#include "path_maker.hpp"
#include "readers.hpp"

namespace haftwright::intake {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kTurn = 2 * std::numbers::pi;

// What stands at most so far off upright counts as upright.
constexpr double kUpright = 1e-9;
constexpr double kFlat = 1e-6;

constexpr std::size_t kMostWork = 50'000'000;
constexpr std::size_t kMostKinds = 100;

/// $INSUNITS in millimetres and in words; the US survey foot is 1200/3937 m.
struct UnitRow {
  int number;
  double mm;
  const char* words;
};
constexpr double kSurveyFoot_mm = 1000.0 * 1200 / 3937;
constexpr UnitRow kUnits[] = {
    {1, 25.4, "inches"},
    {2, 304.8, "feet"},
    {4, 1, "millimetres"},
    {5, 10, "centimetres"},
    {6, 1000, "metres"},
    {8, 25.4e-6, "microinches"},
    {9, 0.0254, "mils"},
    {10, 914.4, "yards"},
    {13, 1e-3, "micrometres"},
    {14, 100, "decimetres"},
    {21, kSurveyFoot_mm, "US survey feet"},
    {22, kSurveyFoot_mm / 12, "US survey inches"},
    {23, kSurveyFoot_mm * 3, "US survey yards"},
};

/// Where an entity is drawn: through which blocks.
struct Setting {
  Affine map;
  std::size_t layer = 0;  ///< of the block's reference: takes what lies on layer 0
  bool in_block = false;
  bool frozen = false;
};

class Drawer {
 public:
  Drawer(const DxfFile& file, Sketch& sketch, const ReadOptions& options)
      : file_(file),
        sketch_(sketch),
        options_(options),
        layers_(sketch.layers, options.layers),
        maker_(sketch, options) {
    for (const DxfLayer& layer : file.layers) {
      const std::size_t i = layers_.of(layer.name);
      sketch.layers[i].shown = !layer.off && !layer.frozen;
      if (layer.frozen) frozen_.insert(i);
    }
  }

  void draw(double mm_per_unit) {
    draw(file_.entities, {Affine::scaled(mm_per_unit, mm_per_unit), 0, false, false});
    layers_.require_all();
  }

  std::size_t fitted_through_points() const { return fitted_through_points_; }

 private:
  using Tags = std::span<const Tag>;

  void draw(const RecordRange& range, const Setting& setting) {
    for (std::size_t i = range.first; i < range.last; ++i) {
      const Record& record = file_.records[i];
      std::size_t after = i + 1;
      if (record.type == "POLYLINE" || record.type == "INSERT") after = end_of_parts(i, range.last);
      draw_one(record, {i + 1, after}, setting);
      i = after - 1;
    }
  }

  /// What belongs to a POLYLINE or an INSERT: up to its SEQEND.
  std::size_t end_of_parts(std::size_t record, std::size_t last) const {
    const std::string_view part = file_.records[record].type == "POLYLINE" ? "VERTEX" : "ATTRIB";
    std::size_t i = record + 1;
    while (i < last && file_.records[i].type == part) ++i;
    if (i < last && file_.records[i].type == "SEQEND") return i + 1;
    if (part == "VERTEX")
      throw IntakeError(at_line(file_.records[record].line), "POLYLINE has no end, SEQEND");
    return i;
  }

  /// Blocks of what is not drawn at all take time too when they are repeated.
  void count_work(const Record& record) {
    work_ += 1 + record.last - record.first;
    if (work_ > kMostWork) refuse(record, "is repeated too often, by blocks inside each other");
  }

  void ignore(const std::string& kind) {
    const bool room = sketch_.ignored.size() < kMostKinds || sketch_.ignored.contains(kind);
    ++sketch_.ignored[room ? kind : "other kinds"];
  }

  void draw_one(const Record& record, const RecordRange& parts, const Setting& setting) {
    const Tags tags = file_.tags_of(record);
    count_work(record);
    const std::string_view name = trimmed(text_in(tags, 8, "0"));
    std::size_t layer = layers_.of(name.empty() ? "0" : name);
    if (setting.in_block && sketch_.layers[layer].name == "0") layer = setting.layer;
    const bool is_block = record.type == "INSERT";
    const bool hidden = setting.frozen || whole_in(tags, 67, 0) == 1 || whole_in(tags, 60, 0) == 1 ||
                        (is_block ? frozen_.contains(layer) : !sketch_.layers[layer].shown);
    if (hidden) {
      ++sketch_.hidden;
      return;
    }
    if (is_block) return draw_block(record, tags, layer, setting);
    const auto drawn = kDrawn.find(record.type);
    if (drawn == kDrawn.end() || is_mesh(record, tags)) {
      return ignore(std::string(drawn == kDrawn.end() ? record.type.substr(0, 40) : "POLYLINE mesh"));
    }
    ++sketch_.layers[layer].entities;
    if (!layers_.wanted(layer)) return;
    maker_.use(setting.map, layer, record.line);
    maker_.count_entity();
    (this->*drawn->second)(record, tags, parts, setting);
  }

  static bool is_mesh(const Record& record, Tags tags) {
    return record.type == "POLYLINE" && (whole_in(tags, 70, 0) & (16 | 64)) != 0;
  }

  [[noreturn]] static void refuse(const Record& record, const std::string& what) {
    throw IntakeError(at_line(record.line), std::string(record.type) + " " + what);
  }

  /// From the coordinates that the entity's extrusion makes to those of the drawing.
  static Affine upright(const Record& record, Tags tags) {
    const double x = real_in(tags, 210, 0), y = real_in(tags, 220, 0), z = real_in(tags, 230, 1);
    const double length = std::hypot(x, y, z);
    if (!(length > 0) || std::hypot(x, y) > kUpright * length)
      refuse(record, "is tilted out of the drawing's plane; save the drawing flat");
    return z > 0 ? Affine{} : Affine::scaled(-1, 1);
  }

  /// Draws in the coordinates of the entity's extrusion.
  void stand_upright(const Record& record, Tags tags, const Setting& setting) {
    maker_.map_by(setting.map.after(upright(record, tags)));
  }

  void line(const Record& record, Tags tags, const RecordRange&, const Setting&) {
    const Vec2 from = place_needed(tags, 10, record), to = place_needed(tags, 11, record);
    if (std::abs(real_in(tags, 30, 0) - real_in(tags, 31, 0)) > kFlat)
      refuse(record, "is not flat; save the drawing flat");
    maker_.move_to(from);
    maker_.line_to(to);
    maker_.end();
  }

  double radius_of(const Record& record, Tags tags) const {
    const double radius = real_needed(tags, 40, record);
    if (!(radius > 0)) refuse(record, "has a radius that is not above 0");
    return radius;
  }

  void draw_arc(const EllipticArc& arc, bool closed) {
    maker_.move_to(arc.from());
    maker_.arc_to(arc, closed ? arc.from() : arc.to());
    closed ? maker_.close() : maker_.end();
  }

  void circle(const Record& record, Tags tags, const RecordRange&, const Setting& setting) {
    stand_upright(record, tags, setting);
    const double radius = radius_of(record, tags);
    draw_arc({place_needed(tags, 10, record), {radius, 0}, {0, radius}, 0, kTurn}, true);
  }

  void arc(const Record& record, Tags tags, const RecordRange&, const Setting& setting) {
    stand_upright(record, tags, setting);
    const double radius = radius_of(record, tags);
    const double start = std::fmod(real_needed(tags, 50, record), 360) * kDegree;
    const double end = std::fmod(real_needed(tags, 51, record), 360) * kDegree;
    double sweep = std::fmod(end - start + 2 * kTurn, kTurn);
    if (sweep < 1e-12) sweep = kTurn;
    draw_arc({place_needed(tags, 10, record), {radius, 0}, {0, radius}, start, sweep}, sweep > kTurn - 1e-12);
  }

  void ellipse(const Record& record, Tags tags, const RecordRange&, const Setting&) {
    const Vec2 major = place_needed(tags, 11, record);
    const double ratio = real_needed(tags, 40, record);
    if (!(glm::length(major) > 0) || !(ratio > 0 && ratio <= 1 + 1e-9))
      refuse(record, "has axes of no length, or a ratio that is not above 0 and up to 1");
    const double up = upright(record, tags).mirrors() ? -1 : 1;
    const double start = real_in(tags, 41, 0);
    double sweep = std::fmod(real_in(tags, 42, kTurn) - start, kTurn);
    if (sweep < 1e-9) sweep += kTurn;
    const bool whole = sweep > kTurn - 1e-9;
    draw_arc({place_needed(tags, 10, record), major, turned_left(major) * (ratio * up),
              std::fmod(start, kTurn), whole ? kTurn : sweep},
             whole);
  }

  struct Corner {
    Vec2 at{0, 0};
    double bulge = 0;
  };

  void corners(const std::vector<Corner>& chain, bool closed) {
    if (chain.empty()) return;
    maker_.move_to(chain.front().at);
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) maker_.bulge_to(chain[i + 1].at, chain[i].bulge);
    if (closed) maker_.bulge_to(chain.front().at, chain.back().bulge);
    closed ? maker_.close() : maker_.end();
  }

  void light_polyline(const Record& record, Tags tags, const RecordRange&, const Setting& setting) {
    stand_upright(record, tags, setting);
    std::vector<Corner> chain;
    bool y_missing = false;
    for (const Tag& tag : tags) {
      if (tag.code == 10) {
        if (y_missing) refuse(record, "has a corner without y");
        chain.push_back({{real_of(tag), 0}, 0});
        y_missing = true;
      } else if (!chain.empty() && tag.code == 20) {
        chain.back().at.y = real_of(tag);
        y_missing = false;
      } else if (!chain.empty() && tag.code == 42) {
        chain.back().bulge = real_of(tag);
      }
    }
    const int stated = whole_in(tags, 90, static_cast<int>(chain.size()));
    if (y_missing || stated != static_cast<int>(chain.size()))
      refuse(record, "says that it has " + std::to_string(stated) + " corners, but holds " +
                         std::to_string(chain.size()) + (y_missing ? ", the last without y" : ""));
    corners(chain, (whole_in(tags, 70, 0) & 1) != 0);
  }

  void polyline(const Record& record, Tags tags, const RecordRange& parts, const Setting& setting) {
    const int flags = whole_in(tags, 70, 0);
    const bool in_space = (flags & 8) != 0;
    if (!in_space) stand_upright(record, tags, setting);
    std::vector<Corner> chain;
    std::optional<double> height;
    for (std::size_t i = parts.first; i < parts.last; ++i) {
      const Record& vertex = file_.records[i];
      if (vertex.type != "VERTEX") continue;
      const Tags own = file_.tags_of(vertex);
      // The frame of a polyline that was smoothed lies beside it.
      if ((whole_in(own, 70, 0) & 16) != 0) continue;
      const double z = real_in(own, 30, 0);
      if (in_space && std::abs(z - height.value_or(z)) > kFlat)
        refuse(record, "is not flat; save the drawing flat");
      height = z;
      chain.push_back({place_needed(own, 10, vertex), in_space ? 0 : real_in(own, 42, 0)});
    }
    corners(chain, (flags & 1) != 0);
  }

  void spline(const Record& record, Tags tags, const RecordRange&, const Setting&) {
    if (draw_spline(tags, record, maker_)) ++fitted_through_points_;
  }

  void draw_block(const Record& record, Tags tags, std::size_t layer, const Setting& setting) {
    const std::string name = lower_case(trimmed(text_in(tags, 2, "")));
    const auto block = file_.blocks.find(name);
    if (block == file_.blocks.end()) refuse(record, "names a block that the file lacks: \"" + name + "\"");
    if (open_blocks_.contains(name)) refuse(record, "puts the block \"" + name + "\" into itself");
    if (open_blocks_.size() >= options_.limits.block_depth)
      refuse(record, "lies in more than " + std::to_string(options_.limits.block_depth) +
                         " blocks inside each other");
    const int columns = std::max(1, whole_in(tags, 70, 1)), rows = std::max(1, whole_in(tags, 71, 1));
    const double across = real_in(tags, 44, 0), up = real_in(tags, 45, 0);
    const double sx = real_in(tags, 41, 1), sy = real_in(tags, 42, 1);
    if (sx == 0 || sy == 0) refuse(record, "scales a block to nothing");
    const Affine stand = setting.map.after(upright(record, tags))
                             .after(Affine::shifted(place_needed(tags, 10, record)))
                             .after(Affine::turned(real_in(tags, 50, 0) * kDegree));
    const Affine inner = Affine::scaled(sx, sy).after(Affine::shifted(-block->second.base));
    const bool frozen = setting.frozen || frozen_.contains(layer);
    open_blocks_.insert(name);
    for (int row = 0; row < rows; ++row)
      for (int column = 0; column < columns; ++column) {
        maker_.use(setting.map, layer, record.line);
        maker_.count_entity();
        const Affine map = stand.after(Affine::shifted({column * across, row * up})).after(inner);
        draw(block->second.records, {map, layer, true, frozen});
      }
    open_blocks_.erase(name);
  }

  using Draw = void (Drawer::*)(const Record&, Tags, const RecordRange&, const Setting&);
  static const std::map<std::string_view, Draw> kDrawn;

  const DxfFile& file_;
  Sketch& sketch_;
  const ReadOptions& options_;
  LayerIndex layers_;
  PathMaker maker_;
  std::set<std::size_t> frozen_;
  std::set<std::string> open_blocks_;
  std::size_t fitted_through_points_ = 0;
  std::size_t work_ = 0;  ///< records and their tags, as often as they are looked at
};

const std::map<std::string_view, Drawer::Draw> Drawer::kDrawn{
    {"LINE", &Drawer::line},
    {"CIRCLE", &Drawer::circle},
    {"ARC", &Drawer::arc},
    {"ELLIPSE", &Drawer::ellipse},
    {"LWPOLYLINE", &Drawer::light_polyline},
    {"POLYLINE", &Drawer::polyline},
    {"SPLINE", &Drawer::spline},
};

void settle_unit(const DxfFile& file, const ReadOptions& options, Sketch& sketch) {
  const UnitRow* row = nullptr;
  for (const UnitRow& unit : kUnits)
    if (file.ins_units == unit.number) row = &unit;
  if (row) {
    sketch.mm_per_unit = row->mm;
    sketch.unit_words = std::string(row->words) + ", as the file says";
  } else if (file.measurement) {
    sketch.notes.push_back(std::string("The file names no unit; its hatches are set for ") +
                           (*file.measurement == 1 ? "millimetres." : "inches."));
  }
  if (!options.mm_per_unit) return;
  const bool other = row && std::abs(row->mm - *options.mm_per_unit) > 1e-9 * row->mm;
  if (other) sketch.notes.push_back("The file says " + std::string(row->words) + "; you said another unit.");
  sketch.mm_per_unit = options.mm_per_unit;
  sketch.unit_words = "as you said";
}

}  // namespace

Sketch read_dxf(std::string_view bytes, const ReadOptions& options) {
  const DxfFile file = read_dxf_file(bytes);
  Sketch sketch;
  sketch.format = FileFormat::dxf;
  settle_unit(file, options, sketch);
  Drawer drawer(file, sketch, options);
  drawer.draw(sketch.mm_per_unit.value_or(1));
  if (const std::size_t n = drawer.fitted_through_points(); n > 0)
    sketch.notes.push_back(std::to_string(n) + (n == 1 ? " spline is" : " splines are") +
                           " given by points alone: a smooth curve was laid through them, which need not be "
                           "the one that the drawing program shows.");
  return sketch;
}

}  // namespace haftwright::intake
