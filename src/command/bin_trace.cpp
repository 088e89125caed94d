// An offcut's outline from a photo of it: reported, put into the bin, or in place of the one that is there.
#include <cmath>
#include <nlohmann/json.hpp>

#include "bin_actions.hpp"
#include "bin_typed.hpp"
#include "bin_words.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/photos/traced.hpp"
#include "haftwright/words/words.hpp"
#include "reports.hpp"
#include "terminal.hpp"
#include "text_shapes.hpp"
#include "verbs.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

constexpr const char* kQualities[] = {"clear", "fair", "doubtful"};
constexpr const char* kFrames[] = {"A5", "A4", "A3", "Letter"};

/// What the outline is for.
enum class Use { report, add, replace };

/// An offcut that is there, where the id names one.
const Offcut* offcut_of(const BinOptions& options, const Bin& bin) {
  if (!options.id) return nullptr;
  const std::size_t at = index_of(bin.offcuts, *options.id);
  return at < bin.offcuts.size() ? &bin.offcuts[at] : nullptr;
}

Use use_of(const BinOptions& options, const Bin& bin) {
  if (offcut_of(options, bin)) return Use::replace;
  if (options.material && options.thickness) return Use::add;
  if (options.id) {
    require_there(bin, *options.id);
    throw InputError("--id", schema::quoted(*options.id) + " is no offcut, so it has no outline to trace");
  }
  if (options.material) require(options.thickness, "--thickness", "how thick is it?");
  return Use::report;
}

/// The option that gives the scale, of which there must be one.
const char* scale_option(const BinOptions& options) {
  const int given = (options.marks.empty() ? 0 : 1) + (options.frame ? 1 : 0) + (options.sheet ? 1 : 0);
  if (given != 1)
    throw InputError(
        "--frame",
        "give one of --frame, --sheet WIDTHxHEIGHT, or --mark four times or more: what the picture's "
        "scale is known by");
  return options.frame ? "--frame" : options.sheet ? "--sheet" : "--mark";
}

void set_scale(const BinOptions& options, LengthUnit unit, const OffcutPhoto& typed, TraceRequest& request) {
  if (options.printed_line && !options.frame)
    throw InputError("--printed-line", "is about the printed frame: give --frame too");
  if (options.frame) {
    PrintedFrame frame;
    if (options.printed_line)
      frame.line_mm = TypedReader("--printed-line", unit).length_mm(*options.printed_line);
    request.scale = frame;
  } else if (options.sheet) {
    const auto sides = TypedReader("--sheet", unit).lengths_mm(*options.sheet, 2, 2);
    request.scale = KnownSheet{sides[0], sides[1]};
  } else {
    request.scale = TypedMarks{typed.marks};
  }
}

Vec2 seed_typed(const std::string& text) {
  const TypedReader read("--seed", LengthUnit::millimetre);
  const auto parts = parted(text, ',');
  if (parts.size() != 2)
    read.refuse("must be \"X,Y\", a place in the picture in pixels, but is " + schema::quoted(text));
  return {read.number(parts[0]), read.number(parts[1])};
}

TraceRequest request_typed(const BinOptions& options, const Bin& bin) {
  const LengthUnit unit = bin.shown_unit;
  const OffcutPhoto typed = photo_typed(options, unit, {});
  TraceRequest request;
  set_scale(options, unit, typed, request);
  request.face = typed.face;
  request.camera_height_mm = typed.camera_height_mm;
  if (std::abs(typed.lens_k1) > 0.5) throw InputError("--lens-k1", "must be from -0.5 to 0.5");
  request.lens_k1 = typed.lens_k1;
  const Offcut* there = offcut_of(options, bin);
  if (options.thickness)
    request.thickness_mm = TypedReader("--thickness", unit).length_mm(*options.thickness);
  else if (there)
    request.thickness_mm = there->thickness_mm;
  if (options.seed) request.seed_px = seed_typed(*options.seed);
  request.face_above_marks_mm = typed.face_above_marks_mm;
  // What lies on the bench with the offcut is lower than its face by its thickness.
  if (!options.above && options.marks.empty()) {
    if (!request.thickness_mm)
      throw InputError(
          "--above",
          "is missing: how far does the face lie above the frame or sheet? --thickness does for an "
          "offcut that lies beside it or on it");
    request.face_above_marks_mm = *request.thickness_mm;
  }
  // Defects and other photos stay where they are: marks are given in their frame, anything else is laid where
  // the old outline was.
  if (there && !options.marks.empty())
    request.lower_left_mm.reset();
  else if (there)
    request.lower_left_mm = Outline(there->outline).bounds().low;
  return request;
}

TracedOffcut traced_typed(const BinOptions& options, const BinPlace& place, const TraceRequest& request) {
  const char* scale = scale_option(options);
  const fs::path picture = picture_place(*options.file, place);
  try {
    return traced(picture, request);
  } catch (const SquaringError& error) {
    throw InputError(scale, schema::quoted(picture.string()) + ": " + error.what());
  } catch (const PictureError& error) {
    throw InputError("--file", schema::quoted(picture.string()) + ": " + error.what());
  }
}

std::string counted(std::size_t count, const char* noun) {
  return std::to_string(count) + " " + noun + (count == 1 ? "" : "s");
}

std::string row(const char* what, const std::string& words) {
  return "  " + padded(what, 20) + words + "\n";
}

std::string trace_text(const TracedOffcut& traced, LengthUnit unit) {
  const Vec2 size = Outline(traced.outline).bounds().size();
  std::string bound =
      bound_words(traced.bound, unit) + "; tracing " + fine_length(traced.tracing_mm(), unit, 2);
  if (traced.side_seen_mm > 0) bound += "; sides that were seen " + fine_length(traced.side_seen_mm, unit, 2);
  return "Traced: " + length_in_both(size.x, unit) + " by " + length_in_both(size.y, unit) + ", " +
         counted(traced.outline.size(), "edge") +
         (traced.holes.empty() ? "" : ", " + counted(traced.holes.size(), "hole")) + "\n" +
         row("scale known by", traced.frame ? std::string("the printed frame, ") +
                                                  kFrames[static_cast<std::size_t>(*traced.frame)]
                                            : counted(traced.photo.marks.size(), "mark")) +
         row("marks agree within", traced.residual_mm ? fine_length(*traced.residual_mm, unit, 2)
                                                      : "four always agree, so nothing is known") +
         row("off by at most", fine_length(traced.bound_mm(), unit, 2)) + row("of that", bound) +
         row("largest deviation", fine_length(traced.largest_fit_mm, unit, 2) +
                                      ", of lines and arcs from the edge that was found") +
         row("scatter", fine_length(traced.scatter_mm, unit, 2)) +
         row("the edge is", kQualities[static_cast<std::size_t>(traced.quality)]) +
         (traced.advice.empty() ? "" : wrapped(traced.advice, "  "));
}

Json chain_json(const std::vector<Node>& chain) {
  Json json = Json::array();
  for (const Node& node : chain) {
    json.push_back({{"x_mm", node.at.x}, {"y_mm", node.at.y}});
    if (node.bulge != 0) json.back()["bulge"] = node.bulge;
  }
  return json;
}

Json trace_json(const TracedOffcut& traced) {
  const Vec2 size = Outline(traced.outline).bounds().size();
  Json json{{"width_mm", size.x}, {"height_mm", size.y}, {"outline", chain_json(traced.outline)}};
  json["holes"] = Json::array();
  for (const auto& hole : traced.holes) json["holes"].push_back(chain_json(hole));
  json["marks"] = traced.photo.marks.size();
  json["frame"] = traced.frame ? Json(kFrames[static_cast<std::size_t>(*traced.frame)]) : Json(nullptr);
  json["residual_mm"] = traced.residual_mm ? Json(*traced.residual_mm) : Json(nullptr);
  json["bound_mm"] = {{"total", traced.bound_mm()},    {"marks", traced.bound.marks_mm},
                      {"lens", traced.bound.lens_mm},  {"height", traced.bound.height_mm},
                      {"size", traced.bound.size_mm},  {"sides_seen", traced.side_seen_mm},
                      {"tracing", traced.tracing_mm()}};
  json["largest_deviation_mm"] = traced.largest_fit_mm;
  json["scatter_mm"] = traced.scatter_mm;
  json["px_per_mm"] = traced.px_per_mm;
  json["edge"] = kQualities[static_cast<std::size_t>(traced.quality)];
  json["advice"] = traced.advice;
  return json;
}

/// The outline and its photo, all else as it is.
void set_traced(const TracedOffcut& traced, const std::string& file, Offcut& offcut) {
  offcut.outline = traced.outline;
  OffcutPhoto photo = traced.photo;
  photo.file = file;
  for (OffcutPhoto& known : offcut.photos)
    if (known.file == file) {
      known = std::move(photo);
      return;
    }
  offcut.photos.push_back(std::move(photo));
}

Bin with_traced(const BinOptions& options, const TracedOffcut& traced, const std::string& file, Use use,
                const Bin& bin, std::string& id) {
  if (use == Use::replace) {
    id = *options.id;
    return made(change_offcut(bin, id, [&](Offcut& offcut) {
      BinOptions fields = options;
      fields.id.reset();
      set_fields(fields, bin, offcut);
      set_traced(traced, file, offcut);
    }));
  }
  Offcut offcut;
  offcut.id = options.id.value_or("");
  set_fields(options, bin, offcut);
  set_traced(traced, file, offcut);
  for (const auto& hole : traced.holes) offcut.defects.push_back({DefectKind::hole, hole});
  Bin after = made(add(bin, std::move(offcut)));
  id = after.offcuts.back().id;
  return after;
}

}  // namespace

int bin_trace(const BinOptions& options, const BinPlace& place) {
  require(options.file, "--file", "which picture?");
  scale_option(options);
  const Bin known = read_bin(place.path);
  const Use use = use_of(options, known);
  const TracedOffcut found = traced_typed(options, place, request_typed(options, known));
  if (!options.output.empty())
    write_file_safely(options.output, png_bytes(found.squared, found.px_per_mm * kMmPerInch));
  const Json json{{"traced", trace_json(found)}};
  std::string text = trace_text(found, known.shown_unit);
  if (!options.output.empty()) text += "Written: " + options.output.string() + "\n";
  if (use == Use::report) {
    Json answer{{"program", "haftwright"}, {"version", HAFTWRIGHT_VERSION}};
    answer.update(json);
    if (options.json)
      print_json(answer);
    else
      print(text);
    return good;
  }
  std::string id;
  std::string file = found.photo.file;
  const auto edit = [&](const Bin& before) { return with_traced(options, found, file, use, before, id); };
  // No picture is kept for an offcut that is refused.
  bin_text(edit(known));
  file = kept_picture(*options.file, place);
  const Bin bin = change_bin(place.path, edit);
  if (use == Use::replace && !found.holes.empty())
    text += "Its holes are not noted: 'haftwright bin defect' does that.\n";
  return report(options, place, bin,
                (options.json ? "" : text) + (use == Use::add ? "Added: " : "Changed: ") + line_of(bin, id),
                {id}, json);
}

}  // namespace haftwright::command
