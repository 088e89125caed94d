#include "haftwright/session/offcut_photos.hpp"

#include <algorithm>
#include <exception>

#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright {
namespace {

constexpr std::size_t kLane = 0;

const OffcutPhoto* photo_of(const Offcut& offcut) {
  const OffcutPhoto* lower = nullptr;
  for (const OffcutPhoto& photo : offcut.photos) {
    if (photo.marks.empty()) continue;
    if (photo.face == Face::upper) return &photo;
    if (!lower) lower = &photo;
  }
  return lower;
}

/// Null where the picture is missing, or is none, or its marks square nothing up: `bin check` tells that.
std::shared_ptr<const SquaredFace> squared_up(const std::filesystem::path& file, const OffcutPhoto& photo,
                                              const std::vector<Node>& outline) {
  try {
    const Vec2 size = Outline(outline).bounds().size();
    const double px_per_mm = OffcutPhotos::kMostPixels / std::max(size.x, size.y);
    const PictureFacts facts = picture_facts(file);
    return std::make_shared<const SquaredFace>(squared(read_picture(file), facts, photo, outline, px_per_mm));
  } catch (const std::exception&) {
    return nullptr;
  }
}

}  // namespace

OffcutPhotos::OffcutPhotos(std::function<void()> wake) : worker_(1, std::move(wake)) {}

bool OffcutPhotos::Entry::is(const Entry& other) const {
  return file == other.file && photo == other.photo && outline == other.outline;
}

std::shared_ptr<const SquaredFace> OffcutPhotos::face(const std::filesystem::path& folder,
                                                      const Offcut& offcut) {
  const OffcutPhoto* photo = photo_of(offcut);
  if (!photo) return nullptr;
  Entry wanted{folder / photo->file, *photo, offcut.outline, false, nullptr};
  const std::lock_guard lock(mutex_);
  const auto found = std::ranges::find_if(entries_, [&](const Entry& entry) { return entry.is(wanted); });
  if (found != entries_.end()) {
    entries_.splice(entries_.begin(), entries_, found);
    return found->squared;
  }
  entries_.push_front(std::move(wanted));
  if (entries_.size() > kMostKept) entries_.pop_back();
  // One that runs goes on through all that wait; this one begins when that has just ended.
  worker_.start(
      kLane, [this](std::uint64_t, const JobContext& context) { work(context); }, WhileRunning::let_it_end);
  return nullptr;
}

bool OffcutPhotos::busy() const {
  const std::lock_guard lock(mutex_);
  return std::ranges::any_of(entries_, [](const Entry& entry) { return !entry.done; });
}

void OffcutPhotos::work(const JobContext& context) {
  while (!context.stop.stop_requested()) {
    Entry next;
    {
      const std::lock_guard lock(mutex_);
      const auto waiting = std::ranges::find(entries_, false, &Entry::done);
      if (waiting == entries_.end()) return;
      next = *waiting;
    }
    next.squared = squared_up(next.file, next.photo, next.outline);
    {
      const std::lock_guard lock(mutex_);
      const auto waiting = std::ranges::find_if(entries_, [&](const Entry& entry) { return entry.is(next); });
      if (waiting != entries_.end()) {
        waiting->done = true;
        waiting->squared = next.squared;
      }
    }
    context.progress(0, "");
  }
}

}  // namespace haftwright
