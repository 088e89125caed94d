#include <pugixml.hpp>
#include <set>

#include "layers.hpp"
#include "path_maker.hpp"
#include "readers.hpp"
#include "svg_shapes.hpp"
#include "svg_style.hpp"
#include "svg_values.hpp"

namespace haftwright::intake {
namespace {

using Element = pugi::xml_node;

// What is not drawn where it stands, and what is no drawing.
const std::set<std::string_view> kSilent{
    "defs",           "clipPath",   "mask",    "marker", "pattern", "symbol", "linearGradient",
    "radialGradient", "metadata",   "title",   "desc",   "style",   "script", "filter",
    "namedview",      "page",       "animate", "set",    "view",    "cursor", "animateTransform",
    "animateMotion",  "perspective"};
const std::set<std::string_view> kGroups{"g", "a", "switch"};

constexpr std::size_t kMostKinds = 100;

/// Without the prefix of its name space.
std::string_view kind_of(const Element& element) {
  const std::string_view name = element.name();
  const std::size_t colon = name.find(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

/// Counts lines once, then tells any place's.
class LineNumbers {
 public:
  explicit LineNumbers(std::string_view bytes) {
    for (std::size_t i = 0; i < bytes.size(); ++i)
      if (bytes[i] == '\n') ends_.push_back(i);
  }
  std::size_t at(std::ptrdiff_t offset) const {
    const auto end = std::lower_bound(ends_.begin(), ends_.end(),
                                      static_cast<std::size_t>(std::max<std::ptrdiff_t>(offset, 0)));
    return static_cast<std::size_t>(end - ends_.begin()) + 1;
  }

 private:
  std::vector<std::size_t> ends_;
};

/// Where an element is drawn.
struct Setting {
  Affine map;  ///< to millimetres
  Viewport viewport;
  std::size_t layer = 0;
  std::size_t depth = 0;
  bool visible = true;
  bool top = true;        ///< directly in the outermost svg, where groups are layers
  bool repeated = false;  ///< inside a use
};

class Walker {
 public:
  Walker(const pugi::xml_document& document, const LineNumbers& lines, Sketch& sketch,
         const ReadOptions& options)
      : lines_(lines),
        sketch_(sketch),
        options_(options),
        layers_(sketch.layers, options.layers),
        maker_(sketch, options) {
    note_ids_and_styles(document.document_element(), 0);
  }

  void draw(const Element& root, const Affine& map, const Viewport& viewport) {
    const Setting setting{map, viewport, layers_.of(""), 0, true, true, false};
    for (const Element& child : root.children()) draw_element(child, setting);
    layers_.require_all();
  }

 private:
  std::string place_of(const Element& element) const {
    return at_line(lines_.at(element.offset_debug())) + ", element " +
           std::string(element.name()).substr(0, 40);
  }

  void note_ids_and_styles(const Element& element, std::size_t depth) {
    if (depth > options_.limits.element_depth)
      throw IntakeError(place_of(element), "lies in more than " +
                                               std::to_string(options_.limits.element_depth) +
                                               " elements inside each other");
    for (const Element& child : element.children()) {
      if (child.type() != pugi::node_element) continue;
      if (const auto id = child.attribute("id")) ids_.try_emplace(id.value(), child);
      if (kind_of(child) == "style") {
        for (const Element& text : child.children()) hidden_classes_.add_sheet(text.value());
      }
      note_ids_and_styles(child, depth + 1);
    }
  }

  bool hidden(const Element& element) const {
    return style_value(element, "display") == "none" || hidden_classes_.hide(element);
  }

  Affine mapped(const Setting& setting, const Element& element) const {
    const auto attribute = element.attribute("transform");
    if (!attribute) return setting.map;
    const auto map = svg_transform(attribute.value());
    if (!map)
      throw IntakeError(place_of(element), "its transform can't be read: \"" +
                                               std::string(attribute.value()).substr(0, 60) + "\"");
    return setting.map.after(*map);
  }

  void draw_element(const Element& element, Setting setting) {
    if (element.type() != pugi::node_element) return;
    const std::string_view kind = kind_of(element);
    if (kSilent.contains(kind)) return;
    if (hidden(element)) {
      ++sketch_.hidden;
      return;
    }
    const std::string visibility = style_value(element, "visibility");
    if (!visibility.empty() && visibility != "inherit") setting.visible = visibility == "visible";
    if (setting.repeated) count(element, setting);
    if (is_shape(kind)) return draw_one(kind, element, setting);
    if (kGroups.contains(kind)) return draw_group(element, setting);
    if (kind == "svg") return draw_view(element, element, setting);
    if (kind == "use") return draw_use(element, setting);
    const std::string name = std::string(kind.substr(0, 40));
    const bool room = sketch_.ignored.size() < kMostKinds || sketch_.ignored.contains(name);
    ++sketch_.ignored[room ? name : "other kinds"];
  }

  void count(const Element& element, const Setting& setting) {
    maker_.use(setting.map, setting.layer, lines_.at(element.offset_debug()));
    maker_.count_entity();
  }

  void draw_one(std::string_view kind, const Element& element, const Setting& setting) {
    if (!setting.visible) {
      ++sketch_.hidden;
      return;
    }
    ++sketch_.layers[setting.layer].entities;
    if (!layers_.wanted(setting.layer)) return;
    maker_.use(mapped(setting, element), setting.layer, lines_.at(element.offset_debug()));
    if (!setting.repeated) maker_.count_entity();
    draw_shape(kind, element, setting.viewport, place_of(element), maker_);
    maker_.end();
  }

  void draw_children(const Element& element, const Setting& setting) {
    Setting inner = setting;
    if (++inner.depth > options_.limits.element_depth)
      throw IntakeError(place_of(element), "lies in more than " +
                                               std::to_string(options_.limits.element_depth) +
                                               " elements inside each other");
    for (const Element& child : element.children()) draw_element(child, inner);
  }

  void draw_group(const Element& element, Setting setting) {
    setting.map = mapped(setting, element);
    const bool layer = std::string_view(element.attribute("inkscape:groupmode").value()) == "layer";
    const auto label = element.attribute("inkscape:label"), id = element.attribute("id");
    if ((layer || setting.top) && (label || id))
      setting.layer = layers_.of(label ? label.value() : id.value());
    setting.top = false;
    draw_children(element, setting);
  }

  /// An svg inside an svg, or a symbol: `size` is the element that says how large it is shown.
  void draw_view(const Element& element, const Element& size, Setting setting) {
    const std::string place = place_of(size);
    const Viewport& outer = setting.viewport;
    const double width = svg_length_of(size, "width", outer.width, outer.width, place);
    const double height = svg_length_of(size, "height", outer.height, outer.height, place);
    if (!(width > 0 && height > 0)) return;
    setting.map = mapped(setting, element);
    if (kind_of(element) == "svg")
      setting.map = setting.map.after(Affine::shifted({svg_length_of(element, "x", outer.width, 0, place),
                                                       svg_length_of(element, "y", outer.height, 0, place)}));
    setting.viewport = {width, height};
    if (const auto attribute = element.attribute("viewBox")) {
      const auto box = view_box(attribute.value());
      const auto map = box ? view_map(*box, width, height, element.attribute("preserveAspectRatio").value())
                           : std::nullopt;
      if (!map) throw IntakeError(place_of(element), "its viewBox or preserveAspectRatio can't be read");
      setting.map = setting.map.after(*map);
      setting.viewport = {box->width, box->height};
    }
    setting.top = false;
    draw_children(element, setting);
  }

  void draw_use(const Element& element, Setting setting) {
    const std::string place = place_of(element);
    const auto attribute =
        element.attribute("href") ? element.attribute("href") : element.attribute("xlink:href");
    const std::string_view target = trimmed(attribute.value());
    if (!target.starts_with('#'))
      throw IntakeError(place, "points to another file, which is never opened: \"" +
                                   std::string(target.substr(0, 60)) + "\"");
    const std::string id(target.substr(1));
    const auto found = ids_.find(id);
    if (found == ids_.end()) throw IntakeError(place, "points to \"" + id + "\", which the file lacks");
    if (open_.contains(id)) throw IntakeError(place, "puts \"" + id + "\" into itself");
    if (open_.size() >= options_.limits.block_depth)
      throw IntakeError(place, "lies in more than " + std::to_string(options_.limits.block_depth) +
                                   " uses inside each other");
    count(element, setting);
    setting.map =
        mapped(setting, element)
            .after(Affine::shifted({svg_length_of(element, "x", setting.viewport.width, 0, place),
                                    svg_length_of(element, "y", setting.viewport.height, 0, place)}));
    setting.repeated = true;
    setting.top = false;
    open_.insert(id);
    const std::string_view kind = kind_of(found->second);
    if (kind == "symbol" || kind == "svg")
      draw_view(found->second, element.attribute("width") || kind == "symbol" ? element : found->second,
                setting);
    else
      draw_element(found->second, setting);
    open_.erase(id);
  }

  const LineNumbers& lines_;
  Sketch& sketch_;
  const ReadOptions& options_;
  LayerIndex layers_;
  PathMaker maker_;
  HiddenClasses hidden_classes_;
  std::unordered_map<std::string, Element> ids_;
  std::set<std::string> open_;  ///< what is being used
};

struct Root {
  Affine map;
  Viewport viewport;
};

/// How large the file says that its outermost svg is, in pixels.
std::optional<double> stated_px(const Element& root, const char* name) {
  const auto attribute = root.attribute(name);
  if (!attribute) return {};
  const auto length = svg_length(attribute.value());
  if (!length)
    throw IntakeError("element svg", std::string(name) + " is no length: \"" +
                                         std::string(attribute.value()).substr(0, 40) + "\"");
  if (length->percent) return {};
  if (!(length->value > 0)) throw IntakeError("element svg", std::string(name) + " must be above 0");
  return length->value;
}

void note_old_program(const Element& root, Sketch& sketch) {
  const std::string_view version = root.attribute("inkscape:version").value();
  if (version.starts_with("0.") && version.substr(0, 4) < "0.92")
    sketch.notes.push_back(
        "The file was written by an old program version that took 90 pixels for an inch. If its lengths come "
        "out 6 % too small, say --unit px90.");
}

/// In pixels of CSS, or in units of the drawing where the unit is not known.
Root root_of(const Element& root, const ReadOptions& options, Sketch& sketch) {
  const auto width = stated_px(root, "width"), height = stated_px(root, "height");
  std::optional<ViewBox> box;
  if (const auto attribute = root.attribute("viewBox")) {
    box = view_box(attribute.value());
    if (!box) throw IntakeError("element svg", "its viewBox can't be read, or has no area");
  }
  Root made{{}, {width.value_or(0), height.value_or(0)}};
  if (box) made.viewport = {box->width, box->height};
  if (options.mm_per_unit) {
    sketch.mm_per_unit = options.mm_per_unit;
    sketch.unit_words = "as you said";
    made.map = Affine::scaled(*options.mm_per_unit, *options.mm_per_unit);
    return made;
  }
  if (!box) {
    sketch.mm_per_unit = kMmPerPixel;
    sketch.unit_words = "pixels of 1/96 in, as SVG has it";
    note_old_program(root, sketch);
    made.map = Affine::scaled(kMmPerPixel, kMmPerPixel);
    return made;
  }
  if (!width && !height) return made;
  const double w = width.value_or(height.value_or(0) * box->width / box->height);
  const double h = height.value_or(w * box->height / box->width);
  const auto map = view_map(*box, w, h, root.attribute("preserveAspectRatio").value());
  if (!map) throw IntakeError("element svg", "its preserveAspectRatio can't be read");
  made.map = Affine::scaled(kMmPerPixel, kMmPerPixel).after(*map);
  sketch.mm_per_unit = glm::length(made.map.x_axis);
  sketch.unit_words = "as the file's width and viewBox say";
  const auto length = svg_length(root.attribute(width ? "width" : "height").value());
  if (length && !length->has_unit) sketch.unit_words += ", in pixels of 1/96 in";
  note_old_program(root, sketch);
  return made;
}

}  // namespace

Sketch read_svg(std::string_view bytes, const ReadOptions& options) {
  pugi::xml_document document;
  const LineNumbers lines(bytes);
  const auto result =
      document.load_buffer(bytes.data(), bytes.size(), pugi::parse_default | pugi::parse_doctype);
  if (!result)
    throw IntakeError(at_line(lines.at(result.offset)),
                      "this is no sound XML: " + lower_case(result.description()));
  for (const Element& child : document.children())
    if (child.type() == pugi::node_doctype)
      throw IntakeError(at_line(lines.at(child.offset_debug())),
                        "the file has a DOCTYPE, which can name other files and hide what is drawn; save it "
                        "without one (plain SVG), or delete that line");
  const Element root = document.document_element();
  if (kind_of(root) != "svg")
    throw IntakeError(at_line(lines.at(root.offset_debug())), "this is XML, but no SVG");
  Sketch sketch;
  sketch.format = FileFormat::svg;
  const Root made = root_of(root, options, sketch);
  Walker(document, lines, sketch, options).draw(root, Affine::scaled(1, -1).after(made.map), made.viewport);
  return sketch;
}

}  // namespace haftwright::intake
