#include "clear_space.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/nesting/plan.hpp"

namespace haftwright::nesting {

std::int64_t worth_of(double length_mm, double width_mm, const Rules& rules) {
  if (length_mm < rules.useful_length_mm || width_mm < rules.useful_width_mm) return 0;
  return std::llround(std::pow(std::max(length_mm * width_mm, 0.0), 1.1));
}

namespace inner {

namespace {

constexpr Int kSlantedSteps = 12;

void sort_once(std::vector<Int>& values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
}

std::size_t index_of(const std::vector<Int>& values, Int value) {
  return static_cast<std::size_t>(std::lower_bound(values.begin(), values.end(), value) - values.begin());
}

struct Mesh {
  std::vector<Int> x, y;
};

Mesh mesh_of(const Room& room) {
  Mesh mesh;
  bool slanted = false;
  for (const Border& border : room.borders) {
    mesh.x.push_back(border.a.X);
    mesh.y.push_back(border.a.Y);
    slanted = slanted || (border.a.X != border.b.X && border.a.Y != border.b.Y);
  }
  for (Int i = 0; slanted && i <= kSlantedSteps; ++i) {
    mesh.x.push_back(room.box.left + (room.box.right - room.box.left) * i / kSlantedSteps);
    mesh.y.push_back(room.box.bottom + (room.box.top - room.box.bottom) * i / kSlantedSteps);
  }
  const auto outside = [](std::vector<Int>& values, Int low, Int high) {
    values.erase(std::remove_if(values.begin(), values.end(), [&](Int v) { return v < low || v > high; }),
                 values.end());
  };
  outside(mesh.x, room.box.left, room.box.right);
  outside(mesh.y, room.box.bottom, room.box.top);
  sort_once(mesh.x);
  sort_once(mesh.y);
  return mesh;
}

/// The rectangles of clear cells that end at a row's top and that can't grow sideways.
void rectangles_under(const std::vector<std::size_t>& heights, std::size_t row, const Mesh& mesh,
                      std::vector<Box>& found) {
  std::vector<std::pair<std::size_t, std::size_t>> open;  // first column, height
  for (std::size_t i = 0; i <= heights.size(); ++i) {
    const std::size_t height = i < heights.size() ? heights[i] : 0;
    std::size_t first = i;
    while (!open.empty() && open.back().second >= height) {
      if (open.back().second > height)
        found.push_back(
            {mesh.x[open.back().first], mesh.y[row + 1 - open.back().second], mesh.x[i], mesh.y[row + 1]});
      first = open.back().first;
      open.pop_back();
    }
    if (height > 0) open.emplace_back(first, height);
  }
}

}  // namespace

ClearSpace clear_space_of(const Room& room) {
  ClearSpace space;
  if (room.usable.empty()) return space;
  space.box = room.box;
  const Mesh mesh = mesh_of(room);
  for (std::size_t j = 0; j + 1 < mesh.y.size(); ++j) {
    bool joined = false;
    for (std::size_t i = 0; i + 1 < mesh.x.size(); ++i) {
      const Box cell{mesh.x[i], mesh.y[j], mesh.x[i + 1], mesh.y[j + 1]};
      const bool clear = legal_in(room, shape_of(corners_of(cell)), {0, 0});
      if (!clear && joined) space.blocked.back().right = cell.right;
      if (!clear && !joined) space.blocked.push_back(cell);
      joined = !clear;
    }
  }
  return space;
}

std::vector<Clear> clear_rectangles(const ClearSpace& space, const std::vector<Box>& more,
                                    const Rules& rules) {
  std::vector<Box> blocked = space.blocked;
  for (Box box : more) {
    box = {std::max(box.left, space.box.left), std::max(box.bottom, space.box.bottom),
           std::min(box.right, space.box.right), std::min(box.top, space.box.top)};
    if (box.left < box.right && box.bottom < box.top) blocked.push_back(box);
  }
  Mesh mesh{{space.box.left, space.box.right}, {space.box.bottom, space.box.top}};
  for (const Box& box : blocked) {
    mesh.x.insert(mesh.x.end(), {box.left, box.right});
    mesh.y.insert(mesh.y.end(), {box.bottom, box.top});
  }
  sort_once(mesh.x);
  sort_once(mesh.y);
  if (mesh.x.size() < 2 || mesh.y.size() < 2) return {};
  const std::size_t columns = mesh.x.size() - 1, rows = mesh.y.size() - 1;
  std::vector<char> taken(columns * rows, 0);
  for (const Box& box : blocked)
    for (std::size_t j = index_of(mesh.y, box.bottom); j < index_of(mesh.y, box.top); ++j)
      std::fill(taken.begin() + static_cast<std::ptrdiff_t>(j * columns + index_of(mesh.x, box.left)),
                taken.begin() + static_cast<std::ptrdiff_t>(j * columns + index_of(mesh.x, box.right)),
                char{1});
  std::vector<Box> boxes;
  std::vector<std::size_t> heights(columns, 0);
  for (std::size_t j = 0; j < rows; ++j) {
    for (std::size_t i = 0; i < columns; ++i) heights[i] = taken[j * columns + i] ? 0 : heights[i] + 1;
    // Only what the next row stops can't grow upward.
    const auto stops = [&](std::size_t from, std::size_t to) {
      if (j + 1 == rows) return true;
      for (std::size_t i = from; i < to; ++i)
        if (taken[(j + 1) * columns + i]) return true;
      return false;
    };
    std::vector<Box> here;
    rectangles_under(heights, j, mesh, here);
    for (const Box& box : here)
      if (stops(index_of(mesh.x, box.left), index_of(mesh.x, box.right))) boxes.push_back(box);
  }
  std::vector<Clear> clear;
  for (const Box& box : boxes) {
    const std::int64_t worth = worth_of(static_cast<double>(box.right - box.left) / kPerMm,
                                        static_cast<double>(box.top - box.bottom) / kPerMm, rules);
    if (worth > 0) clear.push_back({box, worth});
  }
  std::sort(clear.begin(), clear.end(), [](const Clear& a, const Clear& b) {
    if (a.worth != b.worth) return a.worth > b.worth;
    return a.box.left != b.box.left ? a.box.left < b.box.left : a.box.bottom < b.box.bottom;
  });
  return clear;
}

}  // namespace inner
}  // namespace haftwright::nesting
