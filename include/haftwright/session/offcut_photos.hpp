// Photos of offcuts squared up for the screen, in a thread of their own: asked for while they are shown.
#pragma once

#include <filesystem>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <string>

#include "haftwright/photos/squared.hpp"
#include "haftwright/session/worker.hpp"

namespace haftwright {

class OffcutPhotos {
 public:
  /// A squared photo has at most this many pixels along its longer side: enough for a board on the screen.
  static constexpr double kMostPixels = 900;
  /// So many are kept; those that were asked for longest ago go first.
  static constexpr std::size_t kMostKept = 64;

  /// `wake` is called from the thread whenever one more is there.
  explicit OffcutPhotos(std::function<void()> wake);

  /// The upper face of the offcut in its own frame, or the lower one where only that has a photo with marks;
  /// null where there is none, where it can't be squared up, and until it is there, which this asks for.
  /// `folder` is that of the bin's pictures. The same pointer until offcut or photo differ.
  std::shared_ptr<const SquaredFace> face(const std::filesystem::path& folder, const Offcut& offcut);
  bool busy() const;

 private:
  struct Entry {
    std::filesystem::path file;
    OffcutPhoto photo;
    std::vector<Node> outline;
    bool done = false;
    std::shared_ptr<const SquaredFace> squared;
    bool is(const Entry& other) const;
  };

  void work(const JobContext& context);

  mutable std::mutex mutex_;  // guards the list; the worker's own lock is always taken second
  std::list<Entry> entries_;  ///< asked for last first
  Worker worker_;             // last: its thread uses all the others
};

}  // namespace haftwright
