// The fields of a bin file, as design/schema.hpp has those of a project, with the ranges that they alone
// have.
#pragma once

#include "haftwright/design/schema.hpp"
#include "haftwright/offcuts/bin.hpp"

namespace haftwright {

namespace limits {

inline constexpr std::size_t kOffcuts = 4000;
inline constexpr std::size_t kSheetStocks = 1000;
inline constexpr std::size_t kRodStocks = 1000;
inline constexpr std::size_t kDefects = 64;
inline constexpr std::size_t kPhotos = 8;
inline constexpr std::size_t kPhotoMarks = 64;
inline constexpr std::size_t kReservations = 256;

}  // namespace limits

namespace schema {

/// From thicker than a liner's sheet, most of the time, to a turning blank.
inline constexpr Quantity kOffcutThickness{"mm", 1, 300};
/// Wood is dry long before it is glued: its fibres hold no more than about 30 % (Wood Handbook, FPL-GTR-190,
/// 2010, chapter 4, from memory), so that twice as much is a slip of the finger.
inline constexpr Quantity kMoisture{"percent", 0, 60};
/// No picture that is read has longer sides (a sheet of A4 at 1200 dots an inch has 14,031); a mark may lie a
/// little outside.
inline constexpr Quantity kPixel{"px", -24000, 48000};
inline constexpr Quantity kAboveMarks{"mm", -100, 300};
/// Of lenses of telephones |k1| is a few hundredths at half the diagonal (common practice).
inline constexpr Quantity kLensBow{"", -0.5, 0.5};
inline constexpr Quantity kCameraHeight{"mm", 0, 20000, true};
inline constexpr Whole kSliceRange{0, limits::kAlike};

inline constexpr Named<DefectKind> kDefectNames[] = {{"knot", DefectKind::knot},
                                                     {"check", DefectKind::check},
                                                     {"hole", DefectKind::hole},
                                                     {"sapwood", DefectKind::sapwood},
                                                     {"other", DefectKind::other}};
inline constexpr Named<unsigned> kShowFaceNames[] = {{"upper", upper_face}, {"lower", lower_face}};

}  // namespace schema

template <class V, Like<FlatSize> T>
void visit_fields(V& v, T& size) {
  using namespace schema;
  v.number("length_mm", kBlankSize, Need::required, size.length_mm, "along x");
  v.number("width_mm", kBlankSize, Need::required, size.width_mm, "along y");
}

template <class V, Like<Defect> T>
void visit_fields(V& v, T& defect) {
  using namespace schema;
  v.choice("kind", kDefectNames, defect.kind, "what it is");
  v.list("outline", kCutoutNodes, Need::required, defect.outline,
         "what no piece may have in it, through the whole thickness; it may stick out over the edge");
  v.text("note", Need::defaulted, defect.note, "anything worth keeping with it");
}

template <class V, Like<PhotoMark> T>
void visit_fields(V& v, T& mark) {
  using namespace schema;
  v.number("x_px", kPixel, Need::required, mark.at_px.x,
           "in the picture, to the right from its upper left corner");
  v.number("y_px", kPixel, Need::required, mark.at_px.y, "in the picture, down from its upper left corner");
  v.number("x_mm", kCoordinate, Need::required, mark.at_mm.x, "the same place, along the offcut");
  v.number("y_mm", kCoordinate, Need::required, mark.at_mm.y, "the same place, across the offcut");
}

template <class V, Like<OffcutPhoto> T>
void visit_fields(V& v, T& photo) {
  using namespace schema;
  v.text("file", Need::required, photo.file, "its name in the folder of pictures, without any path");
  v.choice("face", kFaceNames, photo.face, "which face it shows");
  v.list("marks", Count{0, limits::kPhotoMarks}, Need::defaulted, photo.marks,
         "places known in the picture and on the offcut; none, or at least 4");
  v.number("face_above_marks_mm", kAboveMarks, Need::defaulted, photo.face_above_marks_mm,
           "how much nearer to the camera the face lies than the marks");
  v.number("lens_k1", kLensBow, Need::defaulted, photo.lens_k1,
           "bow of the lens: a place at r from the middle belongs at r / (1 + k1 r^2), r being 1 at half the "
           "diagonal");
  v.number("camera_height_mm", kCameraHeight, photo.camera_height_mm,
           "from the lens square down to the plane of the marks; left out: not measured");
}

template <class V, Like<Reservation> T>
void visit_fields(V& v, T& reservation) {
  using namespace schema;
  v.text("project", Need::required, reservation.project, "which project means to take from it");
  v.text("piece", Need::defaulted, reservation.piece, "for which piece, in words");
}

template <class V, Like<Offcut> T>
void visit_fields(V& v, T& offcut) {
  using namespace schema;
  v.id("id", offcut.id, "what plans and commands call it by");
  v.text("name", Need::defaulted, offcut.name, "what people call it");
  v.material("material", Need::required, offcut.material, "what it is of");
  v.shape("outline", "size", offcut.outline, "of the upper face, which is looked at; both faces are alike");
  v.number("thickness_mm", kOffcutThickness, Need::required, offcut.thickness_mm, "as it lies there");
  v.section("grain", Need::defaulted, offcut.grain, "how the wood lies in it");
  v.flags("show_faces", kShowFaceNames, offcut.show_faces, "faces that may be seen on a handle");
  v.list("defects", Count{0, limits::kDefects}, Need::defaulted, offcut.defects, "what pieces keep clear of");
  v.whole("alike", kAlikeRange, Need::defaulted, offcut.alike, "how many there are, each as described");
  v.text("matched_set", Need::defaulted, offcut.matched_set,
         "name that all slices of one block share; left out: it is no slice");
  v.whole("slice", kSliceRange, Need::defaulted, offcut.slice,
          "its place in that block, from 1; a missing number is a slice that is used up; 0: it is no slice");
  v.number("moisture_percent", kMoisture, offcut.moisture_percent,
           "water as a share of the dry wood's weight; left out: not measured");
  v.list("photos", Count{0, limits::kPhotos}, Need::defaulted, offcut.photos, "pictures of its faces");
  v.text("kept_at", Need::defaulted, offcut.kept_at, "where it lies");
  v.text("note", Need::defaulted, offcut.note, "anything worth keeping with it");
  v.list("reserved", Count{0, limits::kReservations}, Need::defaulted, offcut.reserved,
         "projects that mean to take from it");
}

template <class V, Like<SheetStock> T>
void visit_fields(V& v, T& sheet) {
  using namespace schema;
  v.id("id", sheet.id, "what plans and commands call it by");
  v.text("name", Need::defaulted, sheet.name, "what people call it");
  v.material("material", Need::required, sheet.material, "what it is of");
  v.number("thickness_mm", kSheetThickness, Need::required, sheet.thickness_mm, "of the sheet");
  v.shape("outline", "size", sheet.outline, "what is left of it");
  v.whole("alike", kAlikeRange, Need::defaulted, sheet.alike, "how many there are, each as described");
  v.text("kept_at", Need::defaulted, sheet.kept_at, "where it lies");
  v.text("note", Need::defaulted, sheet.note, "anything worth keeping with it");
  v.list("reserved", Count{0, limits::kReservations}, Need::defaulted, sheet.reserved,
         "projects that mean to take from it");
}

template <class V, Like<RodStock> T>
void visit_fields(V& v, T& rod) {
  using namespace schema;
  v.id("id", rod.id, "what plans and commands call it by");
  v.text("name", Need::defaulted, rod.name, "what people call it");
  v.section("stock", Need::required, rod.stock, "what it is");
  v.number("length_mm", kBlankSize, Need::required, rod.length_mm, "what is left of it");
  v.whole("alike", kAlikeRange, Need::defaulted, rod.alike, "how many there are, each as described");
  v.text("kept_at", Need::defaulted, rod.kept_at, "where it lies");
  v.text("note", Need::defaulted, rod.note, "anything worth keeping with it");
  v.list("reserved", Count{0, limits::kReservations}, Need::defaulted, rod.reserved,
         "projects that mean to take from it");
}

template <class V, Like<Bin> T>
void visit_fields(V& v, T& bin) {
  using namespace schema;
  v.text("note", Need::defaulted, bin.note, "anything worth keeping with it");
  v.choice("units", kUnitNames, bin.shown_unit, "how lengths are shown; the file itself holds millimetres");
  v.list("materials", Count{0, limits::kOwnMaterials}, Need::defaulted, bin.own_materials,
         "materials the program does not list, or other figures for one it does");
  v.list("offcuts", Count{0, limits::kOffcuts}, Need::defaulted, bin.offcuts, "what scales are made of");
  v.list("sheets", Count{0, limits::kSheetStocks}, Need::defaulted, bin.sheets,
         "what liners and spacer strips are cut from");
  v.list("rods", Count{0, limits::kRodStocks}, Need::defaulted, bin.rods, "what pins are cut from");
}

}  // namespace haftwright
