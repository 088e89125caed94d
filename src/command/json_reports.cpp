#include <algorithm>
#include <nlohmann/json.hpp>

#include "haftwright/alignment/ways.hpp"
#include "haftwright/handle/measures.hpp"
#include "haftwright/handle/volumes.hpp"
#include "reports.hpp"
#include "terminal.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

Json point(Vec2 p) {
  return Json::array({p.x, p.y});
}
Json point(Vec3 p) {
  return Json::array({p.x, p.y, p.z});
}

const char* word(Status status) {
  switch (status) {
    case Status::pass:
      return "pass";
    case Status::near:
      return "near";
    case Status::fail:
      return "fail";
  }
  return "";
}

const char* word(FigureUnit unit) {
  switch (unit) {
    case FigureUnit::millimetre:
      return "mm";
    case FigureUnit::degree:
      return "deg";
    case FigureUnit::count:
      return "count";
    case FigureUnit::share:
      return "share";
  }
  return "";
}

const char* word(PartKind kind) {
  switch (kind) {
    case PartKind::liner:
      return "liner";
    case PartKind::piece:
      return "piece";
    case PartKind::spacer:
      return "spacer";
  }
  return "";
}

const char* word(LocatorRole role) {
  switch (role) {
    case LocatorRole::edge_fence:
      return "edge_fence";
    case LocatorRole::front_stop:
      return "front_stop";
    case LocatorRole::butt_stop:
      return "butt_stop";
    case LocatorRole::tang_stop:
      return "tang_stop";
  }
  return "";
}

const char* word(Serves serves) {
  switch (serves) {
    case Serves::both_scales:
      return "both_scales";
    case Serves::left_scale:
      return "left_scale";
    case Serves::right_scale:
      return "right_scale";
    case Serves::tang:
      return "tang";
    case Serves::scales_and_tang:
      return "scales_and_tang";
  }
  return "";
}

Json spot_json(const Design& design, const Spot& spot) {
  Json json{{"thing", key_of(spot.thing)}};
  if (spot.thing == Thing::drilling && spot.index)
    json["way"] = way_row(static_cast<DrillWay>(*spot.index)).key;
  else if (spot.index)
    json["number"] = *spot.index + 1;
  if (std::string id = id_of(design, spot); !id.empty()) json["id"] = std::move(id);
  if (spot.line) json["line"] = *spot.line + 1;
  if (spot.sides != Sides::none) json["side"] = key_of(spot.sides);
  if (spot.layer) json["layer"] = key_of(*spot.layer);
  if (spot.edge) json["edge"] = name_of(*spot.edge);
  if (spot.level) json["level"] = key_of(*spot.level);
  if (spot.toward) json["toward"] = key_of(*spot.toward);
  if (spot.aspect != Aspect::none) json["aspect"] = key_of(spot.aspect);
  if (spot.mm) json["mm"] = *spot.mm;
  return json;
}

Json end_json(const SideLayout& side, const JointLine& line, HandleEdge edge) {
  const LineEnd& end = edge == HandleEdge::spine ? line.spine : line.belly;
  const CaliperReach reach = caliper_from_front(side, line, edge);
  return {{"inner", point(end.inner)},
          {"outer", point(end.outer)},
          {"caliper_from_front_mm", {{"inner", reach.inner_mm}, {"outer", reach.surface_mm}}}};
}

Json side_json(const SideLayout& side, const SideVolumes& volumes) {
  Json parts = Json::array();
  for (std::size_t i = 0; i < side.parts.size(); ++i) {
    const Part& part = side.parts[i];
    parts.push_back({{"name", part.name},
                     {"kind", word(part.kind)},
                     {"material", part.material},
                     {"volume_mm3", volumes.parts[i].whole_mm3},
                     {"drilled_mm3", volumes.parts[i].drilled_mm3},
                     {"inner_face_mm2", part.inner_face_area_mm2}});
  }
  Json joints = Json::array();
  for (const JointLayout& joint : side.joints) {
    Json lines = Json::array();
    for (const JointLine& line : joint.lines)
      lines.push_back({{"spine", end_json(side, line, HandleEdge::spine)},
                       {"belly", end_json(side, line, HandleEdge::belly)},
                       {"face_mm2", line.face_area_mm2}});
    joints.push_back({{"joint", joint.joint + 1}, {"lines", std::move(lines)}});
  }
  return {
      {"parts", std::move(parts)}, {"joints", std::move(joints)}, {"scale_volume_mm3", volumes.scale_mm3}};
}

}  // namespace

void print_json(const Json& json) {
  print(json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

Json where_json(const Design& design, const Where& where) {
  Json json = spot_json(design, where.at);
  if (where.to) json["to"] = spot_json(design, *where.to);
  return json;
}

Json findings_json(const Design& design, const std::vector<Finding>& findings) {
  std::vector<Finding> sorted = findings;
  sort_worst_first(sorted);
  Json out = Json::array();
  for (const Finding& finding : sorted) {
    Json row{
        {"id", finding.id}, {"status", word(finding.status)}, {"where", where_words(design, finding.where)}};
    row["about"] = where_json(design, finding.where);
    if (finding.place) row["place_mm"] = point(*finding.place);
    row["value"] = finding.value;
    row["limit"] = finding.limit;
    row["sense"] = finding.sense == Sense::at_least ? "at_least" : "at_most";
    row["unit"] = word(finding.unit);
    row["why"] = finding.why;
    row["basis"] = finding.basis;
    out.push_back(std::move(row));
  }
  return out;
}

Json handle_json(const Design& design, const Handle& handle) {
  const HandleVolumes volumes = volumes_of(design, handle);
  Json pins = Json::array();
  for (const PinLayout& pin : handle.pins)
    pins.push_back({{"pin", pin.pin + 1},
                    {"at_mm", point(pin.at)},
                    {"diameter_mm", pin.diameter_mm},
                    {"length_mm", pin.length_mm}});
  return {{"left", side_json(handle.left, volumes.left)},
          {"right", side_json(handle.right, volumes.right)},
          {"pins", std::move(pins)},
          {"tang_volume_mm3", volumes.tang_mm3}};
}

Json cautions_json(const Design& design) {
  return cautions(design);
}

Json epoxy_json(const EpoxyEstimate& estimate) {
  Json lines = Json::array();
  for (const EpoxyEstimate::Line& line : estimate.lines)
    lines.push_back({{"name", line.name}, {"area_mm2", line.area_mm2}, {"volume_ml", line.volume_ml}});
  return {{"lines", std::move(lines)},
          {"net_ml", estimate.net_ml},
          {"squeeze_out_ml", estimate.squeeze_out_ml},
          {"cup_loss_ml", estimate.cup_loss_ml},
          {"total_ml", estimate.total_ml},
          {"total_g", estimate.total_g},
          {"mixed_density_g_ml", estimate.mixed_density_g_ml},
          {"resin_g", estimate.resin_g},
          {"hardener_g", estimate.hardener_g},
          {"resin_ml", estimate.resin_ml},
          {"hardener_ml", estimate.hardener_ml},
          {"hardener_per_resin_by_weight", estimate.hardener_per_resin_by_weight},
          {"ratio_error_share", estimate.ratio_error_share},
          {"least_batch_rules", estimate.least_batch_rules}};
}

Json guide_json(const DrillGuide& guide) {
  Json bores = Json::array();
  for (const GuideBore& bore : guide.bores)
    bores.push_back({{"pin", bore.pin + 1},
                     {"at_mm", point(bore.at)},
                     {"drill_mm", bore.drill_mm},
                     {"bore_mm", bore.diameter_mm},
                     {"for_bushing", bore.for_bushing}});
  Json locators = Json::array();
  for (const GuideLocator& locator : guide.locators)
    locators.push_back({{"role", word(locator.role)},
                        {"serves", word(locator.serves)},
                        {"at_mm", point(locator.at)},
                        {"diameter_mm", locator.diameter_mm},
                        {"loose_pin", locator.loose},
                        {"edge", locator.edge == HandleEdge::spine ? "spine" : "belly"},
                        {"contact_mm", point(locator.contact)}});
  Json windows = Json::array();
  for (const SightWindow& window : guide.windows)
    windows.push_back({{"joint", window.joint + 1},
                       {"for_left", window.for_left},
                       {"for_right", window.for_right},
                       {"end", window.at_spine ? "spine" : "belly"},
                       {"joint_from_mm", point(window.joint_from)},
                       {"joint_to_mm", point(window.joint_to)}});
  const Vec2 size = guide.plate.bounds().size();
  const double front = guide.thickness_at_mm(guide.plate.bounds().low.x);
  const double butt = guide.thickness_at_mm(guide.plate.bounds().high.x);
  return {{"plate_mm", Json::array({size.x, size.y, std::max(front, butt)})},
          {"thickness_front_mm", front},
          {"thickness_butt_mm", butt},
          {"bores", std::move(bores)},
          {"locators", std::move(locators)},
          {"windows", std::move(windows)}};
}

Json work_json(const std::vector<WorkStep>& steps) {
  Json out = Json::array();
  for (const WorkStep& step : steps) out.push_back({{"caution", step.caution}, {"words", step.words}});
  return out;
}

Json bodies_json(const std::vector<BodyFacts>& facts) {
  Json out = Json::array();
  for (const BodyFacts& body : facts)
    out.push_back({{"name", body.name},
                   {"material", body.material},
                   {"volume_mm3", body.volume_mm3},
                   {"closed_and_valid", body.closed_and_valid},
                   {"low_mm", point(body.low)},
                   {"high_mm", point(body.high)}});
  return out;
}

}  // namespace haftwright::command
