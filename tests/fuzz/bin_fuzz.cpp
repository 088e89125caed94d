// A coverage-guided fuzzer for bins of offcuts: what the reader takes is written, searched and sawn. It ends
// with a bin that reads back equal and leftovers that are no more than there was, or with errors that name a
// field; anything else aborts. tests/fuzz/run.sh builds it with coverage and runs it.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "haftwright/files/bin_file.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "haftwright/offcuts/bin_edits.hpp"
#include "haftwright/offcuts/find.hpp"
#include "spoil_input.hpp"

using namespace haftwright;

namespace {

constexpr std::size_t kMostBytes = 40'000;

void need(bool good, const std::string& what) {
  if (good) return;
  std::fprintf(stderr, "%s\n", what.c_str());
  std::abort();
}

/// Straight through the middle, square to the grain.
void saw(const Bin& bin, const Offcut& offcut) {
  const Outline outline(offcut.outline);
  const double middle = outline.moments().centroid.x;
  std::vector<Leftover> leftovers;
  for (const double side : {-1.0, 1.0})
    for (const Outline& part : clip(outline, {{side, 0}, side * middle - 0.5}))
      leftovers.push_back({part.nodes(), offcut.thickness_mm});
  const std::string project = offcut.reserved.empty() ? "" : offcut.reserved.front().project;
  const EditedBin edited = cut(bin, offcut.id, project, leftovers);
  if (!edited) return need(!edited.refusal().empty(), "refused without a reason");
  for (const Problem& problem : validate(*edited)) need(!problem.field.empty(), "no field: " + problem.what);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size > kMostBytes) return 0;
  Bin bin;
  try {
    bin = parse_bin({reinterpret_cast<const char*>(data), size});
  } catch (const InputError& error) {
    need(!error.problems().empty(), "refused without a reason");
    return 0;
  }
  need(parse_bin(bin_text(bin)) == bin, "does not read back as it was written");
  need(bin_ids(found_in(bin, {.reserved_too = true})) == bin_ids(bin),
       "a search for anything leaves something out");
  for (const Offcut& offcut : bin.offcuts) saw(bin, offcut);
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most,
                                               unsigned seed) {
  return test::spoil_input(data, size, most, seed);
}
