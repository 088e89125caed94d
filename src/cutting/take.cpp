#include "haftwright/cutting/take.hpp"

namespace haftwright {
namespace {

std::vector<Node> chain_of(const nesting::Polygon& polygon) {
  std::vector<Node> chain;
  for (const Vec2 p : polygon) chain.push_back({p, 0});
  return chain;
}

/// Edits one after another, up to the first that is refused.
class Taking {
 public:
  explicit Taking(Bin bin) : edited_(std::move(bin)) {}

  template <class Edit>
  void then(Edit&& edit) {
    if (edited_) edited_ = edit(*edited_);
  }
  EditedBin done() && { return std::move(edited_); }

 private:
  EditedBin edited_;
};

std::vector<Leftover> kept(const BoardUse& use, double thickness_mm) {
  std::vector<Leftover> leftovers;
  for (const nesting::Leftover& leftover : use.leftovers)
    if (leftover.worth > 0) leftovers.push_back({chain_of(leftover.outline), thickness_mm});
  for (const Slab& slab : use.slabs)
    leftovers.push_back({chain_of(slab.outline), slab.thickness_mm, slab.faces});
  return leftovers;
}

}  // namespace

std::string name_in_bin(const Design& design, const std::filesystem::path& project) {
  return design.name.empty() ? project.stem().string() : design.name;
}

EditedBin reserve_as_planned(const Bin& bin, const Needs& needs, const CuttingPlan& plan,
                             const std::string& project) {
  Taking taking(bin);
  if (reserved_by(bin, project) > 0) taking.then([&](const Bin& now) { return release(now, project); });
  const auto note = [&](const std::string& id, const std::string& piece) {
    taking.then([&](const Bin& now) { return reserve(now, id, {project, piece}); });
  };
  for (const BoardUse& use : plan.offcuts)
    for (const PlacedBlank& blank : use.blanks) {
      const bool other = use.with_slice && blank.half == Half::lower;
      note(bin.offcuts[other ? *use.with_slice : use.index].id, needs.pieces[blank.need].name);
    }
  for (const BoardUse& use : plan.sheets)
    for (const PlacedBlank& blank : use.blanks) note(bin.sheets[use.index].id, needs.sheets[blank.need].name);
  for (const RodUse& use : plan.rods)
    for (const std::size_t pin : use.pins)
      note(bin.rods[use.index].id, "pin " + std::to_string(needs.pins[pin].pin + 1));
  return std::move(taking).done();
}

EditedBin cut_as_planned(const Bin& bin, const Needs& needs, const CuttingPlan& plan, const ShopRules& rules,
                         const std::string& project) {
  Taking taking(bin);
  const auto saw = [&](std::size_t offcut, const BoardUse& use) {
    const Offcut& wood = bin.offcuts[offcut];
    taking.then([&](const Bin& now) { return cut(now, wood.id, project, kept(use, wood.thickness_mm)); });
  };
  for (const BoardUse& use : plan.offcuts) {
    saw(use.index, use);
    if (use.with_slice) saw(*use.with_slice, use);
  }
  for (const BoardUse& use : plan.sheets) {
    std::vector<std::vector<Node>> left;
    for (const nesting::Leftover& leftover : use.leftovers)
      if (leftover.worth > 0) left.push_back(chain_of(leftover.outline));
    taking.then([&](const Bin& now) { return cut_sheet(now, bin.sheets[use.index].id, project, left); });
  }
  for (const RodUse& use : plan.rods) {
    double used = 0;
    for (const std::size_t pin : use.pins) used += needs.pins[pin].length_mm + rules.saw_kerf_mm;
    const RodStock& rod = bin.rods[use.index];
    taking.then([&](const Bin& now) { return cut_rod(now, rod.id, project, std::min(used, rod.length_mm)); });
  }
  return std::move(taking).done();
}

}  // namespace haftwright
