#include "haftwright/checks/finding.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace haftwright {
namespace {

/// Lengths are sums of exact decimals held in binary: a value this close to its limit is at its limit.
constexpr double kSlack = 1e-9;

/// How far a value is on the good side of its limit, in the finding's own unit.
double margin(double value, double limit, Sense sense) {
  return sense == Sense::at_least ? value - limit : limit - value;
}

double margin_share(const Finding& finding) {
  const double spare = margin(finding.value, finding.limit, finding.sense);
  return finding.limit == 0 ? spare : spare / std::abs(finding.limit);
}

}  // namespace

FindingKey key_of(const Finding& finding) {
  return {finding.id, finding.where};
}

std::vector<Finding> sides_together(std::vector<Finding> findings) {
  for (std::size_t i = 0; i < findings.size(); ++i) {
    const Finding& left = findings[i];
    const Where turned = mirrored(left.where);
    if (turned == left.where || on_both_sides(left.where) == left.where) continue;
    const auto right = std::ranges::find_if(findings, [&](const Finding& finding) {
      return finding.id == left.id && finding.where == turned && finding.value == left.value &&
             finding.limit == left.limit;
    });
    if (right == findings.end()) continue;
    findings[i].where = on_both_sides(left.where);
    findings.erase(right);
    --i;
  }
  return findings;
}

Status judge(double value, double limit, Sense sense, double near_share) {
  const double spare = margin(value, limit, sense);
  if (!(spare >= -kSlack)) return Status::fail;  // also a value that is no number
  return spare < near_share * std::abs(limit) - kSlack ? Status::near : Status::pass;
}

Status worst(const std::vector<Finding>& findings) {
  Status status = Status::pass;
  for (const auto& finding : findings) status = std::max(status, finding.status);
  return status;
}

void sort_worst_first(std::vector<Finding>& findings) {
  // Findings are large: their ranks are sorted, and each finding is moved once.
  std::vector<std::pair<std::tuple<int, double>, std::size_t>> ranks;
  ranks.reserve(findings.size());
  for (std::size_t i = 0; i < findings.size(); ++i)
    ranks.push_back({{-static_cast<int>(findings[i].status), margin_share(findings[i])}, i});
  std::ranges::stable_sort(ranks, {}, [](const auto& ranked) { return ranked.first; });
  std::vector<Finding> sorted;
  sorted.reserve(findings.size());
  for (const auto& [rank, i] : ranks) sorted.push_back(std::move(findings[i]));
  findings = std::move(sorted);
}

}  // namespace haftwright
