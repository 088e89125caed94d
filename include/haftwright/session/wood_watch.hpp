// Photos of the wood that is planned, read beside the window: in a thread of their own, kept as long as their
// files stay as they are. Where a blank lies is no part of that, so that a blank that moves waits for
// nothing.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "haftwright/cutting/wood_places.hpp"
#include "haftwright/photos/wood_photo.hpp"
#include "haftwright/session/worker.hpp"

namespace haftwright {

class WoodWatch {
 public:
  /// `wake` is called from the thread whenever a photo is there, or can't be.
  explicit WoodWatch(std::function<void()> wake);

  struct Wanted {
    std::filesystem::path file;
    OffcutPhoto photo;
    std::vector<Node> outline;  ///< of its offcut
    bool operator==(const Wanted&) const = default;
  };
  struct Found {
    std::shared_ptr<const WoodPhoto> photo;  ///< null while it is read, and when it can't be
    std::string trouble;                     ///< why it can't be used; empty while it is read
  };
  /// One for each; what is not there yet is read from now on. A file that has another size or time than when
  /// it was read is read again.
  std::vector<Found> find(const std::vector<Wanted>& wanted);
  /// Grows whenever an answer of find() may have changed.
  std::uint64_t revision() const;

  /// So much is kept of photos that are not wanted any longer, the last wanted first: some dozen offcuts (own
  /// judgement).
  static constexpr std::size_t kKeptBytes = 200'000'000;

 private:
  struct Stamp {
    std::uintmax_t size = 0;
    std::filesystem::file_time_type modified;
    bool operator==(const Stamp&) const = default;
  };
  struct Entry {
    Wanted wanted;
    Stamp stamp;
    bool done = false;
    Found found;
    std::uint64_t asked = 0;  ///< when it was wanted last
  };
  static Stamp stamp_of(const std::filesystem::path& file);
  Entry* entry(const Wanted& wanted, const Stamp& stamp);
  void drop_old();
  void read_all(const JobContext& context);
  void put(const Wanted& wanted, const Stamp& stamp, Found found);

  mutable std::mutex mutex_;  // guards all below but the worker
  std::vector<Entry> entries_;
  std::uint64_t asked_ = 0;
  std::uint64_t revision_ = 0;
  Worker worker_;  // last: its thread uses all the others
};

/// The wood of each piece that has a place in a plan, as far as it is there.
struct PlannedWoods {
  struct Piece {
    WoodPlace place;
    std::string name;                        ///< "left front piece"
    Offcut offcut;                           ///< that the place is in
    std::shared_ptr<const WoodPhoto> photo;  ///< null: none, or not read yet
    std::string why_none;                    ///< empty with a photo, and while it is read
  };
  std::vector<Piece> pieces;
};

/// `handle` as wood_places() takes it, `folder` the bin's of pictures.
PlannedWoods find_woods(const Handle& handle, const Needs& needs, const CuttingPlan& plan, const Bin& bin,
                        const ShopRules& rules, const std::filesystem::path& folder, WoodWatch& photos);

}  // namespace haftwright
