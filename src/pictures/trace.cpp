#include "haftwright/pictures/trace.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ground.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "trace_steps.hpp"

namespace haftwright {

using namespace pictures;

namespace {

constexpr int kSearch_px = 1400;
// Steps of CIELAB: 2.3 is about what the eye just tells apart (Mahy, Van Eycken and Oosterlinck, Color Res.
// Appl. 19 (1994) 105-121).
constexpr double kLeastThreshold = 4;
constexpr double kMostUnlike = 90;
// Contrasts, in units of the ground's own spread, below which a picture is not clear, and not enough.
constexpr double kFairContrast = 4;
constexpr double kLeastContrast = 2;
constexpr double kClearSeen = 0.9;
constexpr double kFairSeen = 0.7;
// An edge through a lens is blunt at corners by about so many pixels: the smoothing of the last step.
constexpr double kBlunt_px = 7;

// The coarse border may be off by this, where a shadow clings to the piece.
constexpr double kReach_mm = 1;

constexpr const char* kWhatHelps =
    "lay the piece on a plain card of another colour (blue or green) and light it from two sides";

class Tracer {
 public:
  Tracer(const Photo& photo, const TraceInput& input)
      : input_(input),
        small_(reduced(photo, kSearch_px)),
        light_(photo),
        scale_(double{1} * photo.width_px / small_.width_px, double{1} * photo.height_px / small_.height_px) {
  }

  Traced run() {
    find_parts();
    Traced traced;
    traced.contrast = contrast_;
    for (const Parts::Part* part : wanted()) {
      auto outline = outline_of(*part);
      if (outline) traced.outlines.push_back(*std::move(outline));
    }
    if (traced.outlines.empty())
      throw PictureError(std::string("The edge of the piece makes no outline: ") + kWhatHelps + ".");
    judge(traced);
    return traced;
  }

 private:
  void find_parts() {
    const Unlike unlike = unlike_ground(small_);
    const Plane distance = box_mean(unlike.distance, 1);
    const auto two_class =
        static_cast<double>(two_class_threshold(distance.values, 0, static_cast<float>(kMostUnlike)));
    // Between what the ground and its shadows reach and what parts best: two tones of one piece must not
    // part.
    const double own = std::max(kLeastThreshold, 1.3 * unlike.ground_noise + 1.5);
    const auto threshold = static_cast<float>(std::max(own, two_class / 2));
    Mask mask(distance.width, distance.height);
    double unlike_sum = 0;
    std::int64_t count = 0;
    for (std::size_t i = 0; i < mask.values.size(); ++i) {
      mask.values[i] = distance.values[i] > threshold;
      if (!mask.values[i]) continue;
      unlike_sum += double{distance.values[i]};
      ++count;
    }
    contrast_ = count > 0 ? unlike_sum / static_cast<double>(count) / std::max(1.0, unlike.ground_noise) : 0;
    parts_ = parts_of(mask);
    std::stable_sort(parts_.parts.begin(), parts_.parts.end(),
                     [](const Parts::Part& a, const Parts::Part& b) { return a.area_px > b.area_px; });
  }

  double area_mm2(double small_px) const {
    return small_px * scale_.x * scale_.y / (input_.px_per_mm * input_.px_per_mm);
  }

  std::vector<const Parts::Part*> wanted() const {
    std::vector<const Parts::Part*> out;
    if (input_.seed_mm) {
      const Vec2 px =
          Vec2{input_.seed_mm->x - input_.upper_left_mm.x, input_.upper_left_mm.y - input_.seed_mm->y} *
          input_.px_per_mm / scale_;
      const int x = static_cast<int>(std::floor(std::clamp(px.x, -1.0, 1e6)));
      const int y = static_cast<int>(std::floor(std::clamp(px.y, -1.0, 1e6)));
      if (!parts_.labels.holds(x, y)) throw PictureError("The place to start from must lie on the picture.");
      const std::int32_t label = parts_.labels(x, y);
      for (const Parts::Part& part : parts_.parts)
        if (part.label == label) out.push_back(&part);
      if (out.empty())
        throw PictureError(std::string("At the place to start from, piece and ground can't be told apart: ") +
                           kWhatHelps + ".");
      return out;
    }
    for (const Parts::Part& part : parts_.parts)
      if (area_mm2(static_cast<double>(part.area_px)) >= input_.least_area_mm2) out.push_back(&part);
    if (out.empty() || contrast_ < kLeastContrast)
      throw PictureError(std::string("Piece and ground can't be told apart on the picture: ") + kWhatHelps +
                         ".");
    return out;
  }

  Vec2 mm_of(Vec2 px) const {
    return {input_.upper_left_mm.x + px.x / input_.px_per_mm,
            input_.upper_left_mm.y - px.y / input_.px_per_mm};
  }

  struct Fitted {
    FittedChain fit;
    FoundEdge edge;
  };
  std::optional<Fitted> fitted(const Border& border) const {
    std::vector<Vec2> px;
    for (const Vec2 corner : border.corners) px.push_back(corner * scale_);
    Fitted out;
    out.edge =
        edge_near(light_, std::move(px), 3 * std::max(scale_.x, scale_.y) + kReach_mm * input_.px_per_mm);
    std::vector<Vec2> mm;
    for (const Vec2 p : out.edge.points) mm.push_back(mm_of(p));
    auto fit = fitted_chain(mm, input_.tolerance_mm, kBlunt_px / input_.px_per_mm);
    if (!fit) {
      // The edge as it was found crosses itself: better the coarse border than nothing, to be corrected by
      // hand.
      mm.clear();
      for (const Vec2 corner : border.corners) mm.push_back(mm_of(corner * scale_));
      fit = fitted_chain(mm, std::max(input_.tolerance_mm, 2 * scale_.x / input_.px_per_mm), 0);
      out.edge.seen = 0;
    }
    if (!fit) return {};
    out.fit = *std::move(fit);
    return out;
  }

  std::optional<TracedOutline> outline_of(const Parts::Part& part) const {
    const auto borders = borders_of(parts_, part);
    const auto outer = std::max_element(borders.begin(), borders.end(), [](const Border& a, const Border& b) {
      return a.area_px < b.area_px;
    });
    const auto fit = fitted(*outer);
    if (!fit) return {};
    TracedOutline out;
    out.outer = fit->fit.chain;
    out.largest_fit_mm = fit->fit.largest_mm;
    out.scatter_mm = fit->edge.scatter_px / input_.px_per_mm;
    out.edge_seen = fit->edge.seen;
    out.cut_by_picture = part.at_border;
    const Outline outline = Outline::trusted(out.outer);
    out.area_mm2 = outline.area_mm2();
    for (const Border& border : borders) {
      if (border.area_px >= 0 || area_mm2(-border.area_px) < input_.least_hole_mm2) continue;
      const auto hole = fitted(border);
      if (!hole || !contains(outline, Outline::trusted(hole->fit.chain))) continue;
      out.holes.push_back(hole->fit.chain);
      out.area_mm2 -= Outline::trusted(hole->fit.chain).area_mm2();
      out.largest_fit_mm = std::max(out.largest_fit_mm, hole->fit.largest_mm);
    }
    return out;
  }

  void judge(Traced& traced) const {
    double seen = 1;
    bool cut = false;
    for (const TracedOutline& outline : traced.outlines) {
      seen = std::min(seen, outline.edge_seen);
      cut = cut || outline.cut_by_picture;
    }
    if (contrast_ < kFairContrast || seen < kFairSeen || cut)
      traced.quality = TraceQuality::doubtful;
    else if (seen < kClearSeen)
      traced.quality = TraceQuality::fair;
    if (cut) traced.advice += "The piece reaches the picture's border: take it whole. ";
    if (contrast_ < kFairContrast || seen < kClearSeen)
      traced.advice +=
          std::string("The edge is hard to see in places: ") + kWhatHelps + ", or correct it by hand. ";
    if (!traced.advice.empty()) traced.advice.pop_back();
  }

  const TraceInput& input_;
  Photo small_;
  LightReader light_;
  Vec2 scale_;
  Parts parts_;
  double contrast_ = 0;
};

}  // namespace

Traced trace(const Photo& squared, const TraceInput& input) {
  const auto above_0 = [](double value) { return value > 0 && std::isfinite(value); };
  if (!above_0(input.px_per_mm) || !above_0(input.tolerance_mm) || !above_0(input.least_area_mm2) ||
      !above_0(input.least_hole_mm2))
    throw std::invalid_argument("scale, tolerance and least areas must be above 0");
  if (squared.width_px < 32 || squared.height_px < 32)
    throw PictureError(
        "The picture is too small to find an outline on: at least 32 pixels a side are wanted.");
  return Tracer(squared, input).run();
}

}  // namespace haftwright
