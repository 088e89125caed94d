// A coverage-guided fuzzer for project files: what the reader takes goes through layout, checks, guide,
// line-up and meshes. It ends with figures that can be, or with errors that name a field; anything else
// aborts. tests/fuzz/run.sh builds it with coverage and runs it.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "cases/every_answer.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "spoil_input.hpp"

using namespace haftwright;

namespace {

/// More edges than this make one input take seconds: they belong into the benchmark.
constexpr std::size_t kMostBytes = 20'000;

void need(bool good, const std::string& what) {
  if (good) return;
  std::fprintf(stderr, "%s\n", what.c_str());
  std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size > kMostBytes) return 0;
  const std::string text(reinterpret_cast<const char*>(data), size);
  Design design;
  try {
    design = parse_project(text);
  } catch (const InputError& error) {
    need(!error.problems().empty(), "refused without a reason");
    return 0;
  }
  need(parse_project(project_text(design)) == design, "does not read back as it was written");
  const test::Answers answers = test::every_answer(design);
  for (const std::string& bad : answers.bad) need(false, bad);
  for (const std::string& refusal : answers.refusals) need(!refusal.starts_with(':'), "no field: " + refusal);
  need(answers.laid_out || !answers.refusals.empty(), "neither an answer nor a reason");
  return 0;
}

/// Half of the new inputs are projects with values spoilt, the others with bytes changed: few of these get
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most,
                                               unsigned seed) {
  return test::spoil_input(data, size, most, seed);
}
