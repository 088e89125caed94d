#include "haftwright/cutting/wood_places.hpp"

#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>

namespace haftwright {
namespace {

/// The first photo of the face that has marks.
std::optional<WoodPlace::Shown> photo_of(const Bin& bin, std::size_t offcut, bool lower) {
  const std::vector<OffcutPhoto>& photos = bin.offcuts[offcut].photos;
  const auto found = std::ranges::find_if(photos, [&](const OffcutPhoto& photo) {
    return (photo.face == Face::lower) == lower && !photo.marks.empty();
  });
  if (found == photos.end()) return {};
  return WoodPlace::Shown{offcut, static_cast<std::size_t>(found - photos.begin())};
}

std::optional<WoodPlace::Shown> first_of(std::optional<WoodPlace::Shown> one,
                                         std::optional<WoodPlace::Shown> other) {
  return one ? one : other;
}

class Places {
 public:
  Places(const Handle& handle, const Needs& needs, const Bin& bin, const ShopRules& rules)
      : handle_(handle), needs_(needs), bin_(bin), rules_(rules) {}

  WoodPlace place(const BoardUse& use, const PlacedBlank& blank) const {
    const PieceNeed& need = needs_.pieces[blank.need];
    WoodPlace made{blank.need,     need.side,       need.piece, offcut_of(use, blank),
                   blank.mirrored, blank.lower_face};
    made.sawn_face = blank.pairing == Pairing::book && blank.lower_face == (blank.half == Half::upper);
    made.outline = blank.outline;
    made.show_z_mm = show_z_mm(use, blank, made);
    made.shown = shown(use, made, blank.pairing == Pairing::slices);
    lay(blank, need, made);
    return made;
  }

 private:
  /// Both halves of a book of slices are listed on the upper slice.
  static std::size_t offcut_of(const BoardUse& use, const PlacedBlank& blank) {
    return use.with_slice && blank.half == Half::lower ? *use.with_slice : use.index;
  }

  double upper_half_mm(const BoardUse& use, const PlacedBlank& blank) const {
    const auto upper = std::ranges::find_if(use.blanks, [&](const PlacedBlank& other) {
      return other.shape == blank.shape && other.half == Half::upper;
    });
    return upper == use.blanks.end() ? 0 : needs_.pieces[upper->need].thickness_mm;
  }
  double show_z_mm(const BoardUse& use, const PlacedBlank& blank, const WoodPlace& place) const {
    if (place.sawn_face)
      return -upper_half_mm(use, blank) - (blank.half == Half::upper ? 0 : rules_.saw_kerf_mm);
    return place.lower_face ? -bin_.offcuts[place.offcut].thickness_mm : 0;
  }

  std::optional<WoodPlace::Shown> shown(const BoardUse& use, const WoodPlace& place, bool slices) const {
    const auto upper = photo_of(bin_, place.offcut, false);
    const auto lower = photo_of(bin_, place.offcut, true);
    if (place.sawn_face) {
      // From the middle of the kerf, so that both halves find the same.
      const double kerf = rules_.saw_kerf_mm / 2;
      const double middle = -place.show_z_mm + (place.lower_face ? kerf : -kerf);
      const bool upper_is_nearer = 2 * middle <= bin_.offcuts[place.offcut].thickness_mm;
      return upper_is_nearer ? first_of(upper, lower) : first_of(lower, upper);
    }
    const auto own = place.lower_face ? lower : upper;
    if (own || !slices) return own;
    return place.lower_face ? photo_of(bin_, *use.with_slice, false) : photo_of(bin_, use.index, true);
  }

  void lay(const PlacedBlank& blank, const PieceNeed& need, WoodPlace& made) const {
    const Vec2 zero = as_placed({0, 0}, blank);
    const Vec2 along = as_placed({1, 0}, blank) - zero;
    const Vec2 across = as_placed({0, 1}, blank) - zero;
    // Height above the inner face: outward z less where that face lies.
    const double outward = need.side == Which::left ? 1 : -1;
    const double base = handle_.tang_thickness_front_mm / 2 + handle_.side(need.side).liner_total_mm;
    const double slope = handle_.tang_slope / 2;
    const double top = need.thickness_mm - rules_.blank_thickness_allowance_mm;
    const double up = blank.lower_face ? -1 : 1;
    made.axes = glm::dmat3(Vec3{along, -up * slope}, Vec3{across, 0}, Vec3{0, 0, up * outward});
    made.origin = Vec3{zero, made.show_z_mm - up * (base + top)};
  }

  const Handle& handle_;
  const Needs& needs_;
  const Bin& bin_;
  const ShopRules& rules_;
};

}  // namespace

Vec3 WoodPlace::in_handle(Vec3 offcut_direction) const {
  return glm::normalize(glm::inverse(axes) * offcut_direction);
}

std::string no_photo_words(const WoodPlace& place, const Bin& bin) {
  const Offcut& offcut = bin.offcuts[place.offcut];
  const char* face = place.sawn_face ? "either face" : place.lower_face ? "the lower face" : "the upper face";
  return std::string("no photo of ") + face + " of \"" + (offcut.name.empty() ? offcut.id : offcut.name) +
         "\" has marks";
}

std::vector<WoodPlace> wood_places(const Handle& handle, const Needs& needs, const CuttingPlan& plan,
                                   const Bin& bin, const ShopRules& rules) {
  const Places places(handle, needs, bin, rules);
  std::vector<WoodPlace> found;
  for (const BoardUse& use : plan.offcuts)
    for (const PlacedBlank& blank : use.blanks) found.push_back(places.place(use, blank));
  std::ranges::sort(found, {}, &WoodPlace::need);
  return found;
}

}  // namespace haftwright
