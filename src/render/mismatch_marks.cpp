#include "mismatch_marks.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "view_frame.hpp"

namespace haftwright::render {
namespace {

using Paint = std::array<float, 4>;
// Told apart by eyes that mix up red and green: blue against orange, dark red against sea green.
constexpr Paint kLeft{0.00f, 0.36f, 0.68f, 1};
constexpr Paint kRight{0.93f, 0.55f, 0.08f, 1};
constexpr Paint kBetweenBad{0.80f, 0.08f, 0.22f, 0.85f};
constexpr Paint kBetweenGood{0.10f, 0.60f, 0.52f, 0.60f};
constexpr Paint kBad{0.80f, 0.08f, 0.22f, 1};
constexpr Paint kGood{0.05f, 0.53f, 0.46f, 1};
constexpr Paint kRim{1, 1, 1, 1};

constexpr double kLinePixels = 2.4;
constexpr double kMarkPixels = 9;
constexpr double kAsidePixels = 20;  // of a mark from the edge of the handle
constexpr double kLift_mm = 0.15;    // of the lines toward the eye
constexpr double kNoStep_mm = 1e-6;
constexpr int kRungs = 48;

Vec3 toward_eye(const Camera& camera, Vec3 p) {
  if (!camera.perspective) return camera.back;
  return glm::normalize(camera.target + camera.back * camera.distance_mm() - p);
}

/// The place of a polyline at a share of its length.
Vec3 along(const std::vector<Vec3>& line, double share) {
  const double at = std::clamp(share, 0.0, 1.0) * static_cast<double>(line.size() - 1);
  const auto i = std::min(static_cast<std::size_t>(at), line.size() - 2);
  return line[i] + (line[i + 1] - line[i]) * (at - static_cast<double>(i));
}

class MarkMaker {
 public:
  MarkMaker(const Camera& camera, PictureSize size, double limit)
      : camera_(camera), size_(size), limit_(limit) {}

  Marks make(const std::vector<LinePair>& pairs) {
    for (const LinePair& pair : pairs) {
      if (pair.left.size() < 2) continue;
      if (pair.right.size() >= 2) between(pair);
      if (pair.right.size() >= 2) line(pair.right, kRight);
      line(pair.left, kLeft);
      if (pair.right.size() < 2) continue;
      if (&pair == &worst(pairs, pair, &LinePair::step_at_spine_mm))
        end(pair.spine, pair.step_at_spine_mm, pair.belly);
      if (&pair == &worst(pairs, pair, &LinePair::step_at_belly_mm))
        end(pair.belly, pair.step_at_belly_mm, pair.spine);
    }
    return std::move(marks_);
  }

 private:
  /// The line with the largest step in the same joint: one mark at each end of a joint is enough.
  static const LinePair& worst(const std::vector<LinePair>& pairs, const LinePair& of,
                               double LinePair::*step) {
    const LinePair* found = nullptr;
    for (const LinePair& pair : pairs) {
      if (pair.front_face != of.front_face || pair.joint != of.joint || pair.right.size() < 2) continue;
      if (!found || std::abs(pair.*step) > std::abs(found->*step)) found = &pair;
    }
    return *found;
  }
  bool bad(double step) const { return std::abs(step) > limit_; }
  double pixels(double count, Vec3 at) const { return count * pixel_mm(camera_, at, size_); }

  static void triangle(std::vector<MarkCorner>& to, Vec3 a, Vec3 b, Vec3 c, const Paint& paint) {
    for (const Vec3& p : {a, b, c})
      to.push_back({{static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)}, paint});
  }
  Vec3 lifted(Vec3 p, double times) const { return p + toward_eye(camera_, p) * (kLift_mm * times); }

  void line(const std::vector<Vec3>& points, const Paint& paint) {
    Vec3 before[2];
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Vec3 ahead = points[std::min(i + 1, points.size() - 1)];
      const Vec3 behind = points[i == 0 ? 0 : i - 1];
      Vec3 aside = glm::cross(ahead - behind, toward_eye(camera_, points[i]));
      const double length = glm::length(aside);
      aside = length > 1e-9 ? aside / length : camera_.right();
      const Vec3 middle = lifted(points[i], 2);
      const Vec3 half = aside * pixels(kLinePixels / 2, points[i]);
      const Vec3 now[2] = {middle - half, middle + half};
      if (i > 0) {
        triangle(marks_.lines, before[0], before[1], now[1], paint);
        triangle(marks_.lines, before[0], now[1], now[0], paint);
      }
      before[0] = now[0];
      before[1] = now[1];
    }
  }
  /// Fills what lies between the two lines.
  void between(const LinePair& pair) {
    if (pair.largest_mm() < kNoStep_mm) return;
    const Paint& paint = bad(pair.largest_mm()) ? kBetweenBad : kBetweenGood;
    for (int i = 0; i < kRungs; ++i) {
      const double from = static_cast<double>(i) / kRungs;
      const double to = static_cast<double>(i + 1) / kRungs;
      const Vec3 a = lifted(along(pair.left, from), 1);
      const Vec3 b = lifted(along(pair.right, from), 1);
      const Vec3 c = lifted(along(pair.right, to), 1);
      const Vec3 d = lifted(along(pair.left, to), 1);
      triangle(marks_.lines, a, b, c, paint);
      triangle(marks_.lines, a, c, d, paint);
    }
  }
  /// A diamond for a step over the limit, a disc for one within it.
  void end(Vec3 at, double step, Vec3 other_end) {
    Vec3 outward = at - other_end;
    outward -= camera_.back * glm::dot(outward, camera_.back);
    if (glm::length(outward) < 1e-6) return;
    const Vec3 middle = at + glm::normalize(outward) * pixels(kAsidePixels, at);
    const int corners = bad(step) ? 4 : 24;
    const double radius = pixels(bad(step) ? kMarkPixels : 0.62 * kMarkPixels, at);
    polygon(middle, corners, radius + pixels(2, at), kRim);
    polygon(middle, corners, radius, bad(step) ? kBad : kGood);
  }
  void polygon(Vec3 middle, int corners, double radius, const Paint& paint) {
    const auto corner = [&](int k) {
      const double angle = 2 * 3.141592653589793 * k / corners;
      return middle + (camera_.right() * std::cos(angle) + camera_.up * std::sin(angle)) * radius;
    };
    for (int k = 0; k < corners; ++k) triangle(marks_.ends, middle, corner(k), corner(k + 1), paint);
  }

  const Camera& camera_;
  PictureSize size_;
  double limit_;
  Marks marks_;
};

}  // namespace

Marks make_marks(const std::vector<LinePair>& pairs, const Camera& camera, PictureSize size,
                 double step_limit_mm) {
  return MarkMaker(camera, size, step_limit_mm).make(pairs);
}

MarkPainter::MarkPainter()
    : program_({"mark.vert.glsl"}, {"mark.frag.glsl"}), array_(new_vertex_array()), buffer_(new_buffer()) {
  glBindVertexArray(array_.get());
  glBindBuffer(GL_ARRAY_BUFFER, buffer_.get());
  glEnableVertexAttribArray(0);
  glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, sizeof(MarkCorner), nullptr);
  glEnableVertexAttribArray(1);
  glVertexAttribPointer(1, 4, GL_FLOAT, GL_FALSE, sizeof(MarkCorner),
                        reinterpret_cast<const void*>(offsetof(MarkCorner, colour)));
  glBindVertexArray(0);
}

void MarkPainter::draw(const std::vector<MarkCorner>& corners, const glm::dmat4& to_clip) {
  if (corners.empty()) return;
  program_.use();
  program_.set("to_clip", to_clip);
  glBindVertexArray(array_.get());
  glBindBuffer(GL_ARRAY_BUFFER, buffer_.get());
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(corners.size() * sizeof(MarkCorner)), corners.data(),
               GL_STREAM_DRAW);
  glDrawArrays(GL_TRIANGLES, 0, static_cast<GLsizei>(corners.size()));
}

}  // namespace haftwright::render
