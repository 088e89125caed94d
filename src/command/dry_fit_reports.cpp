// What `align` prints of a dry fit.
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "align_reports.hpp"
#include "text_shapes.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

std::string give_or_take(const Measured& measured, LengthUnit unit) {
  return fine_length(measured.value, unit) + " +/- " + fine_length(measured.within, unit);
}

std::string in_degrees(const Measured& measured) {
  return format_number(measured.value, 2) + " +/- " + format_number(measured.within, 2) + " deg";
}

std::string line_words(const FoundLine& line, const Design& design) {
  std::string words = "joint " + std::to_string(line.joint + 1);
  if (!design.left.joints[line.joint].spacers.empty())
    words += line.strip_edge == StripEdge::front ? ", front edge of the strip" : ", rear edge of the strip";
  return words;
}

std::string lines_text(const DryFit& fit, const Design& design) {
  std::string out;
  for (const FoundLine& line : fit.lines) {
    out += "  " + line_words(line, design) + ": ";
    if (line.spine_mm) out += "spine " + give_or_take(*line.spine_mm, design.shown_unit) + "; ";
    if (line.belly_mm) out += "belly " + give_or_take(*line.belly_mm, design.shown_unit) + "; ";
    out += line.turn_deg ? "turned " + in_degrees(*line.turn_deg) + "\n"
                         : "one edge only, so no turn is known\n";
  }
  return out;
}

std::string mends_text(const DryFit& fit, const Design& design) {
  std::string out;
  for (std::size_t i = 0; i < fit.mends.size(); ++i) {
    const Mend& mend = fit.mends[i];
    out += wrapped(std::to_string(i + 1) + ". " + mend.words, "  ");
    out += wrapped("Laid out again so, the greatest step left is " +
                       fine_length(mend.verified_mm, design.shown_unit) + ", " + mend.outcome + ".",
                   "     ");
    for (const std::string& caution : mend.cautions) out += wrapped("Caution: " + caution, "     ");
  }
  return out;
}

Json measured_json(const std::optional<Measured>& measured) {
  return measured ? Json{{"value", measured->value}, {"within", measured->within}} : Json(nullptr);
}

Json mend_json(const Mend& mend) {
  static const char* const kinds[] = {"accept", "push", "open_holes", "next_pins", "face_off"};
  Json json{{"kind", kinds[static_cast<std::size_t>(mend.kind)]},
            {"words", mend.words},
            {"push",
             {{"x_mm", mend.push.shift_mm.x},
              {"y_mm", mend.push.shift_mm.y},
              {"turn_deg", mend.push.turn_rad * 180 / std::numbers::pi}}},
            {"predicted_mm", mend.predicted_mm},
            {"verified_mm", mend.verified_mm},
            {"hides", mend.hides},
            {"outcome", mend.outcome},
            {"cautions", mend.cautions}};
  json["openings"] = Json::array();
  for (const HoleOpening& opening : mend.openings)
    json["openings"].push_back({{"pin", opening.pin + 1},
                                {"drill", opening.drill},
                                {"diameter_mm", opening.diameter_mm},
                                {"stock_mm", opening.stock_mm ? Json(*opening.stock_mm) : Json(nullptr)}});
  json["facings"] = Json::array();
  for (const FacingOff& facing : mend.facings)
    json["facings"].push_back({{"side", name_of(facing.side)},
                               {"piece", facing.piece + 1},
                               {"end", facing.rear_end ? "rear" : "front"},
                               {"joint", facing.joint + 1},
                               {"spine_mm", facing.spine_mm},
                               {"belly_mm", facing.belly_mm}});
  json["strips"] = Json::array();
  for (const StripChange& strip : mend.strips)
    json["strips"].push_back({{"side", name_of(strip.side)},
                              {"joint", strip.joint + 1},
                              {"strip", strip.strip + 1},
                              {"from_mm", strip.from_mm},
                              {"to_mm", strip.to_mm}});
  return json;
}

}  // namespace

std::string unused_text(const std::vector<UnusedReading>& unused) {
  std::string out;
  for (const UnusedReading& reading : unused)
    out += wrapped("Reading " + std::to_string(reading.reading + 1) + " is left out: " + reading.why, "  ");
  return out;
}

std::string dry_fit_text(const Design& design, const DryFit& fit) {
  const LengthUnit unit = design.shown_unit;
  std::string out = "The dry fit: left less right, along the handle, where the lines meet the tang\n";
  out += lines_text(fit, design);
  constexpr double kWorthTellingMm = 0.005;
  out += wrapped("As if the right scale lay " + give_or_take(fit.shift_mm, unit) + " toward the butt" +
                     (fit.turn_deg.within > 0 ? " and turned by " + in_degrees(fit.turn_deg)
                                              : "; its turn is not known") +
                     (fit.rest_mm < kWorthTellingMm
                          ? "; that explains all of it."
                          : "; up to " + fine_length(fit.rest_mm, unit) +
                                " is left: the blanks differ there, or the readings are off.") +
                     " Where blanks differ, or the scale lies off across, it may itself lie elsewhere.",
                 "  ");
  if (const std::string clearance = clearance_words(fit); !clearance.empty()) out += wrapped(clearance, "  ");
  for (const std::string& note : fit.taken) out += wrapped(note, "  ");
  if (!fit.decide.empty()) out += wrapped(fit.decide, "  ");
  if (!fit.problem.empty()) return out + wrapped(fit.problem, "  ");
  if (fit.mends.empty()) return out;
  return out + "What can be done, the best first\n" + mends_text(fit, design);
}

Json dry_fit_json(const std::optional<DryFit>& fit, const std::vector<UnusedReading>& unused) {
  Json json;
  json["unused_readings"] = Json::array();
  for (const UnusedReading& reading : unused)
    json["unused_readings"].push_back({{"reading", reading.reading + 1}, {"why", reading.why}});
  if (!fit) return json;
  json["lines"] = Json::array();
  for (const FoundLine& line : fit->lines)
    json["lines"].push_back({{"joint", line.joint + 1},
                             {"strip_edge", line.strip_edge == StripEdge::front ? "front" : "rear"},
                             {"spine_mm", measured_json(line.spine_mm)},
                             {"belly_mm", measured_json(line.belly_mm)},
                             {"turn_deg", measured_json(line.turn_deg)}});
  json["right_scale"] = {{"shift_mm", measured_json(fit->shift_mm)},
                         {"turn_deg", measured_json(fit->turn_deg)},
                         {"across_mm", measured_json(fit->across_mm)},
                         {"about_mm", {fit->about_mm.x, fit->about_mm.y}}};
  json["rest_mm"] = fit->rest_mm;
  json["worst_mm"] = fit->worst_mm;
  json["clearance_is_enough"] = fit->clearance_is_enough;
  json["taken"] = fit->taken;
  json["decide"] = fit->decide;
  if (!fit->problem.empty()) json["problem"] = fit->problem;
  json["mends"] = Json::array();
  for (const Mend& mend : fit->mends) json["mends"].push_back(mend_json(mend));
  return json;
}

}  // namespace haftwright::command
