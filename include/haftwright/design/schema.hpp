// The fields of a project, one line each: key, what it may be, whether it must be given, what it means.
//
// validate(), the file reader, the file writer and the tables of projects/FORMAT.md all walk these same
// lines, so a new field is one new line here. visit_fields(visitor, value) calls the visitor once for each
// field, in the order of the file; visitors are few and private (validate.cpp, files/), and offer
//   number, text, id, reference (to an id), material, flag, choice, flags, section, list, outline, outlines,
//   group, and where a bin of offcuts is read whole and shape.
// A field that is a std::optional may be left out and then stays empty.
#pragma once

#include "haftwright/design/field_path.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/design/shared_schema.hpp"
#include "haftwright/design/starters.hpp"

namespace haftwright {

template <class V, Like<Node> T>
void visit_fields(V& v, T& node) {
  using namespace schema;
  v.number("x_mm", kCoordinate, Need::required, node.at.x, "toward the butt; of an offcut along it");
  v.number("y_mm", kCoordinate, Need::required, node.at.y, "toward the spine; of an offcut across it");
  v.number(
      "bulge", kBulge, Need::defaulted, node.bulge,
      "tan of a quarter of the arc's angle, to the next node; 0 is a straight line, more than 0 turns left");
}

template <class V, Like<StraightTang> T>
void visit_fields(V& v, T& tang) {
  using namespace schema;
  v.number("length_mm", kStarterLength, Need::defaulted, tang.length_mm, "front face to butt");
  v.number("front_height_mm", kStarterLength, Need::defaulted, tang.front_height_mm, "at the front face");
  v.number("butt_height_mm", kStarterLength, Need::defaulted, tang.butt_height_mm, "at the butt");
  v.number("butt_corner_mm", kStarterRise, Need::defaulted, tang.butt_corner_mm,
           "radius of both butt corners; 0 leaves them square");
  v.number("ricasso_mm", kStarterRise, Need::defaulted, tang.ricasso_mm, "steel ahead of the front face");
}

template <class V, Like<BowedTang> T>
void visit_fields(V& v, T& tang) {
  using namespace schema;
  v.number("length_mm", kStarterLength, Need::defaulted, tang.length_mm, "front face to butt");
  v.number("front_height_mm", kStarterLength, Need::defaulted, tang.front_height_mm, "at the front face");
  v.number("butt_height_mm", kStarterLength, Need::defaulted, tang.butt_height_mm, "at the butt");
  v.number("spine_rise_mm", kStarterRise, Need::defaulted, tang.spine_rise_mm,
           "how far the spine's arc stands above its chord");
  v.number("belly_rise_mm", kStarterRise, Need::defaulted, tang.belly_rise_mm,
           "how far the belly's arc cuts in above its chord");
  v.number("butt_corner_mm", kStarterRise, Need::defaulted, tang.butt_corner_mm,
           "radius of both butt corners; 0 leaves them square");
  v.number("ricasso_mm", kStarterRise, Need::defaulted, tang.ricasso_mm, "steel ahead of the front face");
}

template <class V, Like<TangHole> T>
void visit_fields(V& v, T& hole) {
  using namespace schema;
  v.id("id", hole.id, "what pins call it by");
  v.text("name", Need::defaulted, hole.name, "what findings call it");
  v.number("x_mm", kCoordinate, Need::required, hole.at_mm.x, "its centre, toward the butt");
  v.number("y_mm", kCoordinate, Need::required, hole.at_mm.y, "its centre, toward the spine");
  v.number("diameter_mm", kHoleDiameter, Need::required, hole.diameter_mm, "as measured");
}

template <class V, Like<Tang> T>
void visit_fields(V& v, T& tang) {
  using namespace schema;
  v.outline("outline", "starter", tang.outline, "the flat steel as it is, blade side to butt");
  v.number("thickness_front_mm", kTangThickness, Need::defaulted, tang.thickness_front_mm, "at x = 0");
  v.number("thickness_butt_mm", kTangThickness, Need::defaulted, tang.thickness_butt_mm,
           "at the rearmost point; both faces are flat between");
  v.material("material", Need::defaulted, tang.material, "of the steel");
  v.flag("hardened", tang.hardened, "true once the tang is hard");
  v.list("holes", Count{0, limits::kTangHoles}, Need::defaulted, tang.holes, "holes the tang has already");
  v.outlines("cutouts", limits::kCutouts, tang.cutouts,
             "openings cut through the tang, each a list of nodes");
}

template <class V, Like<Sheet> T>
void visit_fields(V& v, T& sheet) {
  using namespace schema;
  v.material("material", Need::required, sheet.material, "of the sheet");
  v.number("thickness_mm", kSheetThickness, Need::required, sheet.thickness_mm, "of the sheet");
}

template <class V, Like<Grain> T>
void visit_fields(V& v, T& grain) {
  using namespace schema;
  v.number("along_deg", kTurn, Need::defaulted, grain.along_deg, "the fibre in the face, from +x toward +y");
  v.number("dip_deg", kDip, Need::defaulted, grain.dip_deg, "how far the fibre dips out of the face");
  v.number("rings_deg", kTurn, Need::defaulted, grain.rings_deg, "growth rings turned about the fibre");
}

template <class V, Like<Blank> T>
void visit_fields(V& v, T& blank) {
  using namespace schema;
  v.number("thickness_mm", kBlankThickness, Need::defaulted, blank.thickness_mm, "of the rough piece");
  v.number("width_mm", kBlankSize, blank.width_mm, "along y; left out: not checked");
  v.number("length_mm", kBlankSize, blank.length_mm, "along x; left out: not checked");
}

template <class V, Like<Piece> T>
void visit_fields(V& v, T& piece) {
  using namespace schema;
  v.id("id", piece.id, "which piece it stays, wherever it lies");
  v.material("material", Need::required, piece.material, "of the piece");
  v.section("blank", Need::defaulted, piece.blank, "the rough blank it is cut from");
  v.section("grain", Need::defaulted, piece.grain, "how the wood lies in it");
}

template <class V, Like<Joint> T>
void visit_fields(V& v, T& joint) {
  using namespace schema;
  v.id("id", joint.id, "what readings call it by");
  v.number("place_mm", kCoordinate, Need::required, joint.place_mm,
           "where the middle of the joint crosses the axis, on the inner face");
  v.number("slant_deg", kSlant, Need::defaulted, joint.slant_deg,
           "seen from the side; more than 0 leans the spine end toward the butt");
  v.number("rake_deg", kRake, Need::defaulted, joint.rake_deg,
           "through the thickness; more than 0 leans the outside toward the butt");
  v.list("spacers", Count{0, limits::kSheets}, Need::defaulted, joint.spacers,
         "strips in the joint, front to rear; thickness square to the joint");
}

template <class V, Like<FrontFace> T>
void visit_fields(V& v, T& front) {
  using namespace schema;
  v.number("place_mm", kCoordinate, Need::defaulted, front.place_mm, "where it crosses the axis");
  v.number("slant_deg", kSlant, Need::defaulted, front.slant_deg, "as a joint's");
  v.number("rake_deg", kRake, Need::defaulted, front.rake_deg, "as a joint's");
}

template <class V, Like<MonotoneCubic::Station> T>
void visit_fields(V& v, T& station) {
  using namespace schema;
  v.number("x_mm", kCoordinate, Need::required, station.x, "where; each further back than the one before");
  v.number("thickness_mm", kSideThickness, Need::required, station.value,
           "of the whole side, liners and scale, at the crest");
}

template <class V, Like<Finish> T>
void visit_fields(V& v, T& finish) {
  using namespace schema;
  v.list("thickness", Count{1, limits::kStations}, Need::defaulted, finish.thickness_mm,
         "thickness stations, front to rear; the curve levels out beyond the outer ones");
  v.number("crown_radius_mm", kCrownRadius, finish.crown_radius_mm,
           "across the handle; left out: flat across");
  v.number("crest_y_mm", kCoordinate, Need::defaulted, finish.crest_y_mm, "y of the highest line");
  v.number("round_over_mm", kRoundOver, Need::defaulted, finish.round_over_mm,
           "radius along the edge; 0: sharp");
}

template <class V, Like<Side> T>
void visit_fields(V& v, T& side) {
  using namespace schema;
  v.list("liners", Count{0, limits::kSheets}, Need::defaulted, side.liners, "tang outward");
  v.list("pieces", Count{1, limits::kPieces}, Need::required, side.pieces, "front to rear");
  v.list("joints", Count{0, limits::kPieces - 1}, Need::defaulted, side.joints, "one fewer than pieces");
  v.section("front", Need::defaulted, side.front, "the front face of the scale");
  v.number("butt_proud_mm", kProud, Need::defaulted, side.butt_proud_mm,
           "how far the scale stands out behind the tang's butt");
  v.section("finish", Need::defaulted, side.finish, "the shaped surface");
}

template <class V, Like<SideOverrides> T>
void visit_fields(V& v, T& side) {
  using namespace schema;
  v.list("liners", Count{0, limits::kSheets}, side.liners, "tang outward");
  v.list("pieces", Count{1, limits::kPieces}, side.pieces, "front to rear");
  v.list("joints", Count{0, limits::kPieces - 1}, side.joints, "one fewer than pieces");
  v.section("front", side.front, "the front face of the scale");
  v.number("butt_proud_mm", kProud, side.butt_proud_mm,
           "how far the scale stands out behind the tang's butt");
  v.section("finish", side.finish, "the shaped surface");
}

template <class V, Like<PinStock> T>
void visit_fields(V& v, T& stock) {
  using namespace schema;
  v.number("nominal_mm", kPinDiameter, Need::required, stock.nominal_mm, "diameter as bought");
  v.number("measured_mm", kPinDiameter, stock.measured_mm, "diameter as measured; left out: the nominal one");
  v.number("bore_mm", kBore, Need::defaulted, stock.bore_mm, "of a tube; 0: solid");
  v.material("material", Need::defaulted, stock.material, "of the pin");
}

template <class V, Like<HoleSize> T>
void visit_fields(V& v, T& hole) {
  using namespace schema;
  v.text("drill", Need::defaulted, hole.drill, "label of a listed drill or reamer");
  v.number("diameter_mm", kHoleDiameter, hole.diameter_mm,
           "of the hole: typed, or what that drill was measured to make");
}

template <class V, Like<Pin> T>
void visit_fields(V& v, T& pin) {
  using namespace schema;
  v.id("id", pin.id, "what readings call it by");
  v.text("name", Need::defaulted, pin.name, "what findings call it, beside its number");
  v.number("x_mm", kCoordinate, Need::required, pin.at_mm.x, "its axis, toward the butt");
  v.number("y_mm", kCoordinate, Need::required, pin.at_mm.y, "its axis, toward the spine");
  v.section("stock", Need::required, pin.stock, "what the pin is cut from");
  v.section("scale_hole", Need::required, pin.scale_hole, "hole in the pieces of both sides");
  v.section("liner_hole", Need::defaulted, pin.liner_hole,
            "hole in the liners; needed where there are liners");
  v.section("tang_hole", Need::defaulted, pin.tang_hole, "hole to drill in the tang");
  v.reference("existing_tang_hole", Need::defaulted, pin.existing_tang_hole,
              "id of a hole the tang has already, instead of tang_hole");
}

template <class V, Like<GuideSettings> T>
void visit_fields(V& v, T& guide) {
  using namespace schema;
  v.number("plate_thickness_mm", Quantity{"mm", 3, 100}, Need::defaulted, guide.plate_thickness_mm,
           "of the plate; where it is a wedge, at its thinnest bore");
  v.number("fence_height_mm", Quantity{"mm", 0.5, 50}, Need::defaulted, guide.fence_height_mm,
           "of the fences above each face");
  v.number("blank_allowance_mm", Quantity{"mm", 0, 20}, Need::defaulted, guide.blank_allowance_mm,
           "how far the blank's edge at the fences stands proud of the finished outline");
  visit_fields(v, part_of<GuideHabits>(guide));
}

template <class V, Like<Drilling> T>
void visit_fields(V& v, T& drilling) {
  v.flag("one_block", drilling.one_block, "both scales are sawn from one built-up block");
  visit_fields(v, part_of<DrillingHabits>(drilling));
}

template <class V, Like<CaliperReading> T>
void visit_fields(V& v, T& reading) {
  using namespace schema;
  v.reference("joint", Need::required, reading.joint, "id of the joint");
  v.choice("strip_edge", kStripEdgeNames, reading.strip_edge, "which edge of the joint's strips");
  v.choice("at", kEdgeNames, reading.at, "at which edge of the handle");
  v.choice("kind", kReadingNames, reading.kind,
           "a length to the line of one side, or the step between the lines of both sides");
  v.choice("side", kSideNames, reading.side,
           "on which side; of a step, the side whose line lies nearer the butt");
  v.reference("from_pin", Need::defaulted, reading.from_pin,
              "from the near side of the pin of that id; left out: from the front face, or a step");
  v.number("reading_mm", kReadingLength, Need::required, reading.reading_mm,
           "where the joint line meets the tang; straight from the front face's end, else along the handle");
  v.number("accuracy_mm", kAccuracy, Need::defaulted, reading.accuracy_mm, "of the reading, plus or minus");
}

template <class V, Like<HandPlace> T>
void visit_fields(V& v, T& place) {
  using namespace schema;
  v.choice("side", kSideNames, place.side, "of the piece");
  v.reference("piece", Need::required, place.piece, "id of the piece on that side");
  v.reference("offcut", Need::required, place.offcut,
              "id of the offcut in the bin; of slices, the upper one");
  v.whole("copy", kAlikeRange, Need::defaulted, place.copy, "which of the offcuts alike");
  v.number("x_mm", kCoordinate, Need::required, place.at_mm.x,
           "where the middle of the box round the blank lies, along the offcut");
  v.number("y_mm", kCoordinate, Need::required, place.at_mm.y, "the same, across the offcut");
  v.number("turn_deg", kTurn, Need::defaulted, place.turn_deg,
           "of the handle's x against the offcut's; of a blank that lies mirrored, after mirroring");
  v.choice("face", kFaceNames, place.face, "which face of the offcut the piece's outer face looks to");
  v.choice("cut", kHandCutNames, place.cut,
           "the blank by itself, or with its mate as a book or out of two neighbouring slices");
}

template <class V, Like<Colour> T>
void visit_fields(V& v, T& colour) {
  using namespace schema;
  v.number("red", kShare, Need::defaulted, colour.red, "sRGB");
  v.number("green", kShare, Need::defaulted, colour.green, "sRGB");
  v.number("blue", kShare, Need::defaulted, colour.blue, "sRGB");
}

template <class V, Like<Material> T>
void visit_fields(V& v, T& material) {
  using namespace schema;
  v.text("key", Need::required, material.key,
         "what the rest of the file calls it; comes before a listed one");
  v.text("name", Need::required, material.name, "what people call it");
  v.choice("kind", kKindNames, material.kind, "which cautions and estimates apply");
  v.number("density_kg_m3", kDensity, Need::required, material.density_kg_m3, "as it is used");
  v.text("density_source", Need::defaulted, material.density_source, "where the density comes from");
  v.flags("hazards", kHazardNames, material.hazards, "cautions to show");
  v.section("colour", Need::defaulted, material.colour, "to draw it with");
}

template <class V, Like<Design> T>
void visit_fields(V& v, T& design) {
  using namespace schema;
  v.text("name", Need::defaulted, design.name, "of the project");
  v.text("note", Need::defaulted, design.note, "anything worth keeping with it");
  v.choice("units", kUnitNames, design.shown_unit,
           "how lengths are shown; the file itself holds millimetres");
  v.list("materials", Count{0, limits::kOwnMaterials}, Need::defaulted, design.own_materials,
         "materials the program does not list, or other figures for one it does");
  v.section("tang", Need::required, design.tang, "the steel");
  v.group("sides", Need::required, "left and right scale", [&design](auto& sides) {
    sides.section("left", Need::required, design.left, "the left side");
    sides.section("right", Need::defaulted, design.right,
                  "only what differs from the left side's mirror image");
  });
  v.list("pins", Count{0, limits::kPins}, Need::defaulted, design.pins, "through tang and both sides");
  v.section("adhesive", Need::defaulted, design.adhesive, "the two-part epoxy");
  v.section("guide", Need::defaulted, design.guide, "the drill guide");
  v.section("rules", Need::defaulted, design.rules, "the shop's own limits");
  v.section("drilling", Need::defaulted, design.drilling, "how this maker drills");
  v.list("dry_fit", Count{0, limits::kReadings}, Need::defaulted, design.dry_fit,
         "caliper readings taken when the scales were pinned on dry");
  v.list("hand_places", Count{0, limits::kHandPlaces}, Need::defaulted, design.hand_places,
         "places on offcuts that the maker chose for blanks; plans go round them");
}

}  // namespace haftwright
