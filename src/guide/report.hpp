// What each group of the guide's findings is given, and where its findings go.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "plan.hpp"

namespace haftwright::guide {

constexpr const char* kCommonPractice = "common practice";
constexpr const char* kOurOwn = "a working limit of this program, without a source";

struct Report {
  const Design& design;
  const Handle& handle;
  const DrillGuide& guide;
  std::vector<Finding>& findings;

  void add(Finding finding) const {
    finding.status = judge(finding.value, finding.limit, finding.sense, design.rules.near_share);
    findings.push_back(std::move(finding));
  }
  Vec3 on_plate(Vec2 at) const { return {at, guide.face_z_mm(at.x)}; }
};

/// Every locator against every part, at blank size and at finished size.
void check_seats(const Report& report);
/// The drill: long enough to guide, long enough to reach, and square to what it drills.
void check_drilling(const Report& report);

}  // namespace haftwright::guide
