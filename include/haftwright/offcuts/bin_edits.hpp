// All changes to a bin, each a pure function: the new bin, or a refusal in a maker's words. Undo is to keep
// the old one.
//
// An edit refuses only what makes no sense as an edit (nothing is called that); whether the numbers are good
// is asked afterwards, of validate(). Offcuts, sheets and rods are identified by their id alone, which is
// unique.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "haftwright/offcuts/bin.hpp"

namespace haftwright {

/// A value: either the edited bin or a refusal.
class EditedBin {
 public:
  EditedBin(Bin bin) : bin_(std::move(bin)) {}
  static EditedBin refused(std::string why) {
    EditedBin edit;
    edit.refusal_ = std::move(why);
    return edit;
  }

  explicit operator bool() const { return bin_.has_value(); }
  const Bin& operator*() const { return *bin_; }
  const Bin* operator->() const { return &*bin_; }
  /// Empty when there is a bin.
  const std::string& refusal() const { return refusal_; }

 private:
  EditedBin() = default;

  std::optional<Bin> bin_;
  std::string refusal_;
};

/// At the end of its list, with a new id where it has none. Refused where its id is taken.
EditedBin add(const Bin& bin, Offcut offcut);
EditedBin add(const Bin& bin, SheetStock sheet);
EditedBin add(const Bin& bin, RodStock rod);
/// Takes the offcut, sheet or rod of that id out. Refused where a project has reserved it.
EditedBin remove(const Bin& bin, const std::string& id);
/// Another name for people; the id stays, so that plans and reservations stay too.
EditedBin rename(const Bin& bin, const std::string& id, const std::string& name);

/// Lets `edit` change the fields of one; the id can't be changed by it.
EditedBin change_offcut(const Bin& bin, const std::string& id, const std::function<void(Offcut&)>& edit);
EditedBin change_sheet(const Bin& bin, const std::string& id, const std::function<void(SheetStock&)>& edit);
EditedBin change_rod(const Bin& bin, const std::string& id, const std::function<void(RodStock&)>& edit);

EditedBin add_defect(const Bin& bin, const std::string& id, Defect defect);
EditedBin remove_defect(const Bin& bin, const std::string& id, std::size_t defect);
EditedBin move_defect(const Bin& bin, const std::string& id, std::size_t defect, Vec2 by_mm);

/// Notes that the project means to take a piece from it. An offcut is reserved by no more projects than there
/// are of it, else it is refused; sheets and rods last for several, where the
/// maker says so: a plan leaves them alone as it does offcuts. What is noted already stays as it is.
EditedBin reserve(const Bin& bin, const std::string& id, const Reservation& reservation);
/// What a plan takes from: an offcut, sheet or rod, and for which piece, in words.
struct Claim {
  std::string id;
  std::string piece;
};
/// The project reserves these and nothing else: its earlier reservations are released first. Refused as
/// reserve() is; then nothing of it is done.
EditedBin reserve_only(const Bin& bin, const std::string& project, const std::vector<Claim>& claims);
/// Releases everything that the project has reserved. Refused where that is nothing.
EditedBin release(const Bin& bin, const std::string& project);
/// How many things the project has reserved a piece from.
std::size_t reserved_by(const Bin& bin, const std::string& project);

/// What is left of an offcut once it has been cut.
struct Leftover {
  std::vector<Node> outline;  ///< in the frame of the offcut it comes from
  double thickness_mm = 0;    ///< less than the offcut's where that was sawn through its thickness
  unsigned faces = upper_face | lower_face;  ///< those of the offcut's that it still has; the others are sawn
};

/// An offcut was cut up: it goes, or one of those alike does, and what is left of it comes back. A leftover
/// has the id of its offcut with "_rest" behind it, "_rest_2" and so on; its own frame, of the same
/// directions, the origin at the lower left of its outline; the defects that reach into it, cut off along its
/// straight outer edges where they stick out; the photos of the faces it still has, their marks in the new
/// frame. A sawn face may be seen. It leaves its matched set, which is noted. The project's reservations of
/// it are released. Refused where another project has reserved the last one, for an outline that is none, and
/// for a leftover thicker than the offcut.
EditedBin cut(const Bin& bin, const std::string& id, const std::string& project,
              const std::vector<Leftover>& leftovers);

/// So much of a rod is used up, saw cuts included. One alone is that much shorter and keeps its id; of
/// several alike one is cut and comes back as "_rest". Less than kLeastOffcutMm is nothing left. The
/// project's reservations of it are released. Refused where the rod is shorter, and where it would be gone
/// though another project has reserved it.
EditedBin cut_rod(const Bin& bin, const std::string& id, const std::string& project, double used_mm);
/// What is left of a sheet, each outline in its own frame as an offcut's. Of one alone the largest keeps the
/// id, all others are "_rest", "_rest_2". Refused as cut_rod is, and for outlines as cut is.
EditedBin cut_sheet(const Bin& bin, const std::string& id, const std::string& project,
                    const std::vector<std::vector<Node>>& leftovers);

}  // namespace haftwright
