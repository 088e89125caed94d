#include "haftwright/session/wood_watch.hpp"

#include <algorithm>
#include <exception>
#include <utility>

namespace haftwright {
namespace {

constexpr std::size_t kLane = 0;

WoodWatch::Found read(const WoodWatch::Wanted& wanted) {
  try {
    return {std::make_shared<const WoodPhoto>(wood_photo(wanted.file, wanted.photo, wanted.outline)), ""};
  } catch (const std::exception& error) {
    return {nullptr, "the photo " + wanted.photo.file + " can't be used: " + error.what()};
  }
}

std::size_t bytes_of(const WoodWatch::Found& found) {
  return found.photo ? found.photo->picture.photo.rgb.size() + found.photo->picture.shown.size() : 0;
}

}  // namespace

WoodWatch::WoodWatch(std::function<void()> wake) : worker_(1, std::move(wake)) {}

WoodWatch::Stamp WoodWatch::stamp_of(const std::filesystem::path& file) {
  std::error_code none;
  const std::uintmax_t size = std::filesystem::file_size(file, none);
  if (none) return {};
  const auto modified = std::filesystem::last_write_time(file, none);
  return none ? Stamp{} : Stamp{size, modified};
}

WoodWatch::Entry* WoodWatch::entry(const Wanted& wanted, const Stamp& stamp) {
  const auto found = std::ranges::find_if(
      entries_, [&](const Entry& have) { return have.stamp == stamp && have.wanted == wanted; });
  return found == entries_.end() ? nullptr : &*found;
}

std::vector<WoodWatch::Found> WoodWatch::find(const std::vector<Wanted>& wanted) {
  std::vector<Found> answers;
  bool missing = false;
  const std::lock_guard lock(mutex_);
  ++asked_;
  for (const Wanted& one : wanted) {
    const Stamp stamp = stamp_of(one.file);
    Entry* have = entry(one, stamp);
    if (!have) {
      entries_.push_back({one, stamp, false, {}, 0});
      have = &entries_.back();
      missing = true;
    }
    have->asked = asked_;
    answers.push_back(have->found);
  }
  drop_old();
  if (missing)
    worker_.start(
        kLane, [this](std::uint64_t, const JobContext& context) { read_all(context); },
        WhileRunning::let_it_end);
  return answers;
}

/// Of what is not wanted now the oldest go, until the rest is small enough.
void WoodWatch::drop_old() {
  std::ranges::stable_sort(entries_, std::ranges::greater{}, &Entry::asked);
  std::size_t kept = 0;
  std::erase_if(entries_, [&](const Entry& have) {
    if (have.asked == asked_) return false;
    kept += bytes_of(have.found);
    return !have.done || kept > kKeptBytes;
  });
}

void WoodWatch::read_all(const JobContext& context) {
  while (!context.stop.stop_requested()) {
    Wanted wanted;
    Stamp stamp;
    {
      const std::lock_guard lock(mutex_);
      const auto next = std::ranges::find(entries_, false, &Entry::done);
      if (next == entries_.end()) return;
      wanted = next->wanted;
      stamp = next->stamp;
    }
    put(wanted, stamp, read(wanted));
    context.progress(0, "");
  }
}

void WoodWatch::put(const Wanted& wanted, const Stamp& stamp, Found found) {
  const std::lock_guard lock(mutex_);
  Entry* have = entry(wanted, stamp);
  if (!have) return;
  have->found = std::move(found);
  have->done = true;
  ++revision_;
}

std::uint64_t WoodWatch::revision() const {
  const std::lock_guard lock(mutex_);
  return revision_;
}

PlannedWoods find_woods(const Handle& handle, const Needs& needs, const CuttingPlan& plan, const Bin& bin,
                        const ShopRules& rules, const std::filesystem::path& folder, WoodWatch& photos) {
  PlannedWoods woods;
  std::vector<WoodWatch::Wanted> wanted;
  for (WoodPlace& place : wood_places(handle, needs, plan, bin, rules)) {
    if (place.shown) {
      const Offcut& shown = bin.offcuts[place.shown->offcut];
      const OffcutPhoto& photo = shown.photos[place.shown->photo];
      wanted.push_back({folder / photo.file, photo, shown.outline});
    }
    std::string why = place.shown ? "" : no_photo_words(place, bin);
    Offcut offcut = bin.offcuts[place.offcut];
    std::string name = needs.pieces[place.need].name;
    woods.pieces.push_back({std::move(place), std::move(name), std::move(offcut), nullptr, std::move(why)});
  }
  const std::vector<WoodWatch::Found> found = photos.find(wanted);
  auto next = found.begin();
  for (PlannedWoods::Piece& piece : woods.pieces) {
    if (!piece.place.shown) continue;
    piece.photo = next->photo;
    piece.why_none = next->trouble;
    ++next;
  }
  return woods;
}

}  // namespace haftwright
