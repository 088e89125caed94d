// A coverage-guided fuzzer for project files: what the reader takes goes through layout, checks, guide,
// line-up and meshes. It ends with figures that can be, or with errors that name a field; anything else
// aborts. tests/fuzz/run.sh builds it with coverage and runs it.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "cases/every_answer.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "support/spoilt_project.hpp"

using namespace haftwright;
using Json = nlohmann::ordered_json;

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
/// past the reader.
extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most,
                                               unsigned seed) {
  test::Random random(seed);
  if (random.chance(0.2)) return LLVMFuzzerMutate(data, size, most);
  const Json file = Json::parse(data, data + size, nullptr, false);
  if (!file.is_object() || file.empty()) return LLVMFuzzerMutate(data, size, most);
  const std::string text = test::spoilt_project(file, random).dump();
  if (text.size() > most) return size;
  std::memcpy(data, text.data(), text.size());
  return text.size();
}
