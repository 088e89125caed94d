// How large a project, a shop file or a bin of offcuts may be. Stated in projects/FORMAT.md, enforced when a
// file is read, tested.
#pragma once

#include <cstddef>

namespace haftwright::limits {

inline constexpr std::size_t kFileBytes = 4u << 20;
inline constexpr std::size_t kBinBytes = 32u << 20;
inline constexpr std::size_t kNesting = 16;  // objects and lists inside each other
inline constexpr std::size_t kOutlineNodes = 2000;
inline constexpr std::size_t kCutouts = 64;
inline constexpr std::size_t kCutoutNodes = 250;  // of one cutout: each is held against every other
inline constexpr std::size_t kTangHoles = 128;
inline constexpr std::size_t kPieces = 64;
inline constexpr std::size_t kPins = 64;
inline constexpr std::size_t kSheets = 16;  // liners of a side, spacer strips of a joint
inline constexpr std::size_t kStations = 64;
inline constexpr std::size_t kOwnMaterials = 128;
inline constexpr std::size_t kReadings = 256;
inline constexpr std::size_t kHandPlaces = 2 * kPieces;
inline constexpr int kAlike = 999;                 // offcuts, sheets or rods of one entry in a bin
inline constexpr std::size_t kOwnedDrills = 1024;  // of a shop file; more than are listed
inline constexpr std::size_t kTextBytes = 4096;
inline constexpr std::size_t kIdBytes = 24;
inline constexpr double kCoordinateMm = 2000;  // |x|, |y| of anything

}  // namespace haftwright::limits
