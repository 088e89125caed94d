#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "lens_fit.hpp"
#include "squaring_impl.hpp"

namespace haftwright {

using namespace pictures;

namespace {

// A triangle of marks flatter than this share of its longest side squared counts as a line.
constexpr double kFlattest = 0.005;
// Where one mark lies so much farther from the camera than another, a pixel's error grows out of hand.
constexpr double kMostDepthRatio = 6;
// Marks that disagree by more than this share of their spread were mixed up or mistyped.
constexpr double kMostDisagreement = 0.05;
// Telephones' main cameras: about 24 to 28 mm for film of 36 x 24 mm, with some at 35 (common practice).
constexpr double kUsualFocal_35mm = 27;
constexpr double kUsualFocalShare = 0.3;
// A focal length stated in a file is rounded, and does not follow the focusing (common practice).
constexpr double kStatedFocalShare = 0.06;
// A lens whose bow was stated bows otherwise at another distance of focus: from own judgement.
constexpr double kStatedLensError = 0.002;
// A height that was measured by hand.
constexpr double kMeasuredHeightShare = 0.03;

std::string name_of_mark(std::size_t index) {
  return "mark " + std::to_string(index + 1);
}

bool finite(Vec2 p) {
  return std::isfinite(p.x) && std::isfinite(p.y);
}

void check_values(const SquaringInput& input, int width_px, int height_px) {
  const auto need = [](bool good, const char* what) {
    if (!good) throw std::invalid_argument(what);
  };
  need(width_px >= 1 && height_px >= 1, "a picture's sides must be 1 pixel or more");
  need(std::isfinite(input.face_above_marks_mm), "the height of the face over the marks must be a number");
  need(input.height_error_mm >= 0 && input.mark_error_px >= 0 && input.size_error_share >= 0 &&
           input.lens_bow_share >= 0,
       "errors must be 0 or more");
  need(input.lens_bow_share <= 0.2,
       "a lens that bows its corners by more than 0.2 is no lens to measure with");
  if (input.camera_height_mm)
    need(*input.camera_height_mm > 0 && std::isfinite(*input.camera_height_mm),
         "the height of the camera must be above 0");
  if (input.lens_k1) need(std::abs(*input.lens_k1) <= 0.5, "a lens's bow must be from -0.5 to 0.5");
  if (input.focal_px)
    need(*input.focal_px > 0 && std::isfinite(*input.focal_px), "a focal length must be above 0");
  for (const auto& edge : input.straight_edges_px) {
    need(edge.size() >= 3, "an edge known to be straight needs three places or more");
    need(std::all_of(edge.begin(), edge.end(), finite), "places along an edge must be numbers");
  }
}

void check_marks(const std::vector<Mark>& marks, int width_px, int height_px) {
  if (marks.size() < 4)
    throw SquaringError("Four marks or more are needed to square a picture up: there are " +
                        std::to_string(marks.size()) + ".");
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const Mark& mark = marks[i];
    if (!finite(mark.at_px) || !finite(mark.at_mm))
      throw SquaringError("The place of " + name_of_mark(i) + " must be given in numbers.");
    if (mark.at_px.x < 0 || mark.at_px.y < 0 || mark.at_px.x > width_px || mark.at_px.y > height_px)
      throw SquaringError("The place of " + name_of_mark(i) + " must lie on the picture, 0 to " +
                          std::to_string(width_px) + " across and 0 to " + std::to_string(height_px) +
                          " down.");
    for (std::size_t k = 0; k < i; ++k) {
      if (glm::distance(mark.at_px, marks[k].at_px) < 1)
        throw SquaringError("On the picture, " + name_of_mark(k) + " and " + name_of_mark(i) +
                            " are at one place: each needs its own.");
      if (mark.at_mm == marks[k].at_mm)
        throw SquaringError("In millimetres, " + name_of_mark(k) + " and " + name_of_mark(i) +
                            " are at one place: each needs its own.");
    }
  }
}

bool is_flat(Vec2 a, Vec2 b, Vec2 c) {
  const double longest = std::max({glm::distance(a, b), glm::distance(b, c), glm::distance(c, a)});
  return std::abs(cross(b - a, c - a)) < kFlattest * longest * longest;
}

[[noreturn]] void refuse_crossing() {
  throw SquaringError(
      "The marks make no rectangle as a camera can see one: their lines cross, so give them in one order "
      "round "
      "it.");
}
[[noreturn]] void refuse_mirrored() {
  throw SquaringError(
      "The marks run round the other way than their places in millimetres, as in a mirror: swap two opposite "
      "ones.");
}

/// Of just four marks no three may lie on a line, and a camera sees all four triangles of them turn the same
/// way; more are looked at by what they determine.
void check_four(const std::vector<Mark>& marks) {
  if (marks.size() != 4) return;
  int mirrored = 0;
  for (std::size_t left_out = 0; left_out < 4; ++left_out) {
    std::array<std::size_t, 3> rest{};
    for (std::size_t i = 0, k = 0; i < 4; ++i)
      if (i != left_out) rest[k++] = i;
    const auto [a, b, c] = rest;
    const std::string names =
        name_of_mark(a) + ", " + name_of_mark(b) + " and " + name_of_mark(c) + " lie on one line";
    if (is_flat(marks[a].at_px, marks[b].at_px, marks[c].at_px))
      throw SquaringError("On the picture, " + names + ": marks must lie round what is to be measured.");
    if (is_flat(marks[a].at_mm, marks[b].at_mm, marks[c].at_mm))
      throw SquaringError("In millimetres, " + names + ": marks must lie round what is to be measured.");
    const double on_picture = cross(marks[b].at_px - marks[a].at_px, marks[c].at_px - marks[a].at_px);
    const double in_plane = cross(marks[b].at_mm - marks[a].at_mm, marks[c].at_mm - marks[a].at_mm);
    // y runs down on the picture and up in millimetres: a true view turns the sense of rotation.
    if ((on_picture > 0) == (in_plane > 0)) ++mirrored;
  }
  if (mirrored == 4) refuse_mirrored();
  if (mirrored > 0) refuse_crossing();
}

/// What no camera can see of a plane.
void check_view(const std::vector<Mark>& marks, const Homography& to_straight) {
  double nearest = std::numeric_limits<double>::max();
  double farthest = std::numeric_limits<double>::lowest();
  for (const Mark& mark : marks) {
    const double depth = to_straight.depth(mark.at_mm);
    nearest = std::min(nearest, depth);
    farthest = std::max(farthest, depth);
  }
  if (!(nearest > 0)) refuse_crossing();
  if (to_straight.determinant() > 0) refuse_mirrored();
  if (farthest > kMostDepthRatio * nearest)
    throw SquaringError(
        "The picture looks too flatly along the plane of the marks: take it more from above.");
}

HomographyFit fitted(const std::vector<Mark>& marks, const Lens& lens) {
  std::vector<Pair> pairs;
  pairs.reserve(marks.size());
  for (const Mark& mark : marks) pairs.push_back({mark.at_mm, lens.straightened(mark.at_px)});
  auto fit = fit_homography(pairs);
  if (!fit)
    throw SquaringError(
        "The marks do not determine the picture: they must lie round what is to be measured, not along a "
        "line.");
  return *std::move(fit);
}

Squaring::Impl::Map map_of(const Lens& lens, const Homography& to_straight) {
  Squaring::Impl::Map map{lens, to_straight, to_straight.inverse()};
  return map;
}

void raise_face(Squaring::Impl::Map& map, const Squaring::Camera& camera, double by_mm) {
  map.foot_mm = camera.foot_mm;
  map.shrink = 1 - by_mm / camera.height_mm;
}

double focal_for_height(const Homography& to_straight, Vec2 centre, double focal, double height_mm) {
  for (int i = 0; i < 30; ++i) focal *= height_mm / camera_of(to_straight, centre, focal).height_mm;
  return focal;
}

/// Finds the camera, and raises the face from the plane of the marks.
void place_camera(Squaring::Impl& impl, const SquaringInput& input) {
  const Lens& lens = impl.map.lens;
  const Homography& to_straight = impl.map.to_straight;
  double focal = input.focal_px.value_or(kUsualFocal_35mm / std::hypot(36, 24) * 2 * lens.unit_px);
  double share = input.focal_px ? kStatedFocalShare : kUsualFocalShare;
  if (input.camera_height_mm) {
    focal = focal_for_height(to_straight, lens.centre_px, focal, *input.camera_height_mm);
    share = kMeasuredHeightShare;
  }
  impl.camera = camera_of(to_straight, lens.centre_px, focal);
  impl.face_above_mm = input.face_above_marks_mm;
  if (!(impl.camera->height_mm > 2 * std::abs(impl.face_above_mm)))
    throw SquaringError(
        "The face lies too near to the camera for its height to be corrected: lay the marks on the face "
        "itself, or take the picture from farther away.");
  if (impl.face_above_mm == 0) return;
  raise_face(impl.map, *impl.camera, impl.face_above_mm);
  for (auto& map : impl.other_lenses) raise_face(map, *impl.camera, impl.face_above_mm);
  for (const double by : {1 - share, 1 + share}) {
    impl.other_cameras.push_back(impl.map);
    raise_face(impl.other_cameras.back(), camera_of(to_straight, lens.centre_px, by * focal),
               impl.face_above_mm);
  }
}

void measure_residuals(Squaring::Impl& impl, const std::vector<Mark>& marks) {
  Bounds& box = impl.measured_mm;
  const Vec2 first = impl.map.on_face(marks.front().at_mm);
  box = {first, first};
  impl.middle_mm = {0, 0};
  double largest = 0;
  std::size_t worst = 0;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const Vec2 mm = impl.map.on_face(marks[i].at_mm);
    box = {glm::min(box.low, mm), glm::max(box.high, mm)};
    impl.middle_mm += mm / static_cast<double>(marks.size());
    const double off =
        marks.size() == 4
            ? 0
            : glm::distance(impl.map.to_plane(impl.map.lens.straightened(marks[i].at_px)), marks[i].at_mm);
    impl.residuals_mm.push_back(off);
    if (off > largest) worst = i;
    largest = std::max(largest, off);
  }
  if (largest > kMostDisagreement * glm::length(box.size()))
    throw SquaringError("The marks do not agree with each other: " + name_of_mark(worst) + " is " +
                        std::to_string(std::lround(largest)) +
                        " mm off, so look whether two are mixed up or a size is mistyped.");
}

}  // namespace

namespace pictures {

Squaring::Camera camera_of(const Homography& to_straight, Vec2 centre_px, double focal_px) {
  // Columns of the map, seen in units of the focal length from the middle of the lens: two axes of the plane
  // and its origin, all times one unknown factor.
  const auto column = [&](std::size_t c) {
    const double z = to_straight.m[6 + c];
    return Vec3{(to_straight.m[c] - centre_px.x * z) / focal_px,
                (to_straight.m[3 + c] - centre_px.y * z) / focal_px, z};
  };
  const Vec3 x = column(0);
  const Vec3 y = column(1);
  const Vec3 normal = glm::normalize(glm::cross(x, y));
  const double factor = std::sqrt(glm::length(glm::cross(x, y)));
  const Vec3 origin = column(2) / factor;
  // The camera's foot: the origin less what of it runs along the plane. Rounding may leave the axes not quite
  // square, so both are solved for.
  const Vec3 flat = -origin + glm::dot(origin, normal) * normal;
  const double xx = glm::dot(x, x), xy = glm::dot(x, y), yy = glm::dot(y, y);
  const double fx = glm::dot(x, flat), fy = glm::dot(y, flat);
  const double square = xx * yy - xy * xy;
  return {std::abs(glm::dot(origin, normal)), Vec2{fx * yy - fy * xy, fy * xx - fx * xy} / square * factor};
}

}  // namespace pictures

Squaring square_up(const SquaringInput& input, int width_px, int height_px) {
  check_values(input, width_px, height_px);
  check_marks(input.marks, width_px, height_px);
  check_four(input.marks);
  auto impl = std::make_shared<Squaring::Impl>();
  const Vec2 centre = Vec2{width_px, height_px} / 2.0;
  Lens lens{0, centre, glm::length(centre)};
  // Marks in a wrong order must not pass for a bowed lens.
  check_view(input.marks, fitted(input.marks, lens).map);
  double lens_error = input.lens_bow_share;
  if (input.lens_k1) {
    lens.k1 = *input.lens_k1;
    lens_error = kStatedLensError;
    impl->lens_is_found = true;
  } else if (const auto found = fit_lens(input, lens.centre_px, lens.unit_px)) {
    lens.k1 = found->k1;
    lens_error = found->error;
    impl->lens_is_found = true;
  }
  impl->fit = fitted(input.marks, lens);
  impl->map = map_of(lens, impl->fit->map);
  for (const double by : {-lens_error, lens_error}) {
    if (lens_error == 0) break;
    const Lens other{lens.k1 + by, lens.centre_px, lens.unit_px};
    impl->other_lenses.push_back(map_of(other, fitted(input.marks, other).map));
  }
  impl->mark_error_px = input.mark_error_px;
  impl->size_error_share = input.size_error_share;
  impl->height_error_mm = input.height_error_mm;
  impl->width_px = width_px;
  impl->height_px = height_px;
  place_camera(*impl, input);
  measure_residuals(*impl, input.marks);
  return Squaring(std::move(impl));
}

Squaring from_two_sides(const std::array<Vec2, 4>& corners_px, double first_mm, double second_mm,
                        const SquaringInput& others, int width_px, int height_px) {
  if (!(first_mm > 0 && second_mm > 0 && std::isfinite(first_mm) && std::isfinite(second_mm)))
    throw SquaringError("Both sides of the rectangle must be longer than 0 mm.");
  double area = 0;
  for (std::size_t i = 0; i < 4; ++i) area += cross(corners_px[i], corners_px[(i + 1) % 4]);
  // With y down, a positive area means clockwise as seen: then the first side is the upper one.
  const bool clockwise = area > 0;
  const double from = clockwise ? second_mm : 0;
  const double to = clockwise ? 0 : second_mm;
  SquaringInput input = others;
  input.marks = {{corners_px[0], {0, from}},
                 {corners_px[1], {first_mm, from}},
                 {corners_px[2], {first_mm, to}},
                 {corners_px[3], {0, to}}};
  return square_up(input, width_px, height_px);
}

}  // namespace haftwright
