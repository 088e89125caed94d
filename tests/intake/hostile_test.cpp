// Files that are cut off, far too large in what they ask for, or no drawings at all.
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "drawings.hpp"
#include "support/random.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::test;
using Catch::Matchers::Contains;

namespace {

const std::string kGood =
    dxf(dxf_polyline({{{0, 0}, 0}, {{10, 0}, 0.4}, {{10, 10}, 0}}, true) + dxf_circle({7, 3}, 1));

std::string repeated(const std::string& text, std::size_t times) {
  std::string all;
  for (std::size_t i = 0; i < times; ++i) all += text;
  return all;
}

std::string block(const std::string& name, const std::string& content) {
  return tag(0, "BLOCK") + tag(2, name) + content + tag(0, "ENDBLK");
}
std::string insert(const std::string& name, const std::string& more = "") {
  return entity("INSERT", tag(2, name) + tag(10, 0) + tag(20, 0) + more);
}

}  // namespace

TEST_CASE("a DXF cut off anywhere is refused with a line") {
  const std::size_t end = kGood.rfind("0\nEOF");
  for (std::size_t length = 1; length < end + 4; ++length) {
    const std::string cut = kGood.substr(0, length);
    CHECK_THAT(refusal(cut), Contains("line "));
  }
  CHECK_THAT(refusal(kGood.substr(0, end)), Contains("cut off"));
  CHECK(refusal(kGood.substr(0, kGood.size() - 1)).empty());
}

TEST_CASE("numbers that are none are refused with a line") {
  for (const char* bad : {"nan", "inf", "-inf", "1e308", "1e999", "", "12,5", "0x10", "1 2", "--1"}) {
    INFO(bad);
    const std::string text = dxf(entity("LINE", tag(10, bad) + tag(20, 0) + tag(11, 1) + tag(21, 1)));
    CHECK_THAT(refusal(text), Contains("line 20: expected a number"));
  }
  CHECK_THAT(refusal(dxf(dxf_line({0, 0}, {1e9, 0}))), Contains("off the origin"));
  CHECK_THAT(refusal(dxf(dxf_circle({0, 0}, -1))), Contains("radius"));
  CHECK_THAT(refusal(dxf(dxf_polyline({{{0, 0}, 1e300}, {{1, 0}, 0}}, true))), Contains("line"));
  CHECK_THAT(refusal(svg("<circle r=\"1e308\"/>")), Contains("off the origin"));
  CHECK_THAT(refusal(svg("<circle r=\"1em\"/>")), Contains("no length"));
}

TEST_CASE("what is no drawing is refused in plain words") {
  CHECK_THAT(refusal("AutoCAD Binary DXF\r\n\x1a"), Contains("binary DXF"));
  CHECK_THAT(refusal("AC1027\0\0\0"), Contains("DWG"));
  CHECK_THAT(refusal(""), Contains("empty"));
  CHECK_THAT(refusal("%PDF-1.4"), Contains("neither"));
  CHECK_THAT(refusal("<html/>"), Contains("no SVG"));
  CHECK_THAT(refusal("<svg><g></svg>"), Contains("XML"));
  CHECK_THAT(refusal("<?xml version=\"1.0\"?>\n<!DOCTYPE svg [<!ENTITY a \"b\">]>\n" + svg("")),
             Contains("line 2: the file has a DOCTYPE"));
  CHECK_THAT(refusal("0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nWHAT\n"), Contains("line 8"));
  CHECK_THAT(refusal("7\nSECTION\n"), Contains("no DXF"));
  CHECK_THAT(refusal(section("ENTITIES", tag(10, 1)) + tag(0, "EOF")), Contains("beginning of an entity"));
}

TEST_CASE("bombs of blocks and uses are refused soon") {
  const auto start = std::chrono::steady_clock::now();
  // Ten blocks that hold the next one ten times each.
  std::string blocks = block("b0", repeated(dxf_circle({0, 0}, 1), 10));
  std::string texts = block("b0", repeated(entity("TEXT", ""), 10));
  std::string uses = "<g id=\"u0\">" + repeated("<circle r=\"1\"/>", 10) + "</g>";
  for (int i = 1; i < 10; ++i) {
    const std::string name = "b" + std::to_string(i), before = "b" + std::to_string(i - 1);
    blocks += block(name, repeated(insert(before), 10));
    texts += block(name, repeated(insert(before), 10));
    uses += "<g id=\"u" + std::to_string(i) + "\">" +
            repeated("<use href=\"#u" + std::to_string(i - 1) + "\"/>", 10) + "</g>";
  }
  CHECK_THAT(refusal(dxf(insert("b9"), section("BLOCKS", blocks))), Contains("more than 200000 entities"));
  CHECK_THAT(refusal(dxf(insert("b9"), section("BLOCKS", texts))), Contains("more than 200000 entities"));
  CHECK_THAT(refusal(svg("<defs>" + uses + "</defs><use href=\"#u9\"/>")),
             Contains("more than 200000 entities"));
  CHECK_THAT(refusal(dxf(insert("b0", tag(70, 2000000000) + tag(71, 2000000000)), section("BLOCKS", blocks))),
             Contains("more than 200000 entities"));
  std::string deep = block("d0", dxf_circle({0, 0}, 1));
  for (int i = 1; i < 40; ++i) deep += block("d" + std::to_string(i), insert("d" + std::to_string(i - 1)));
  CHECK_THAT(refusal(dxf(insert("d39"), section("BLOCKS", deep))), Contains("more than 16 blocks"));
  CHECK_THAT(refusal(svg(repeated("<g>", 100'000) + repeated("</g>", 100'000))), Contains("more than 128"));
  // Minutes if it were tried; the bound leaves room for sanitizers on a busy machine.
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(60));
}

TEST_CASE("curves of endless detail are refused") {
  std::string data = "M0 0";
  for (int i = 0; i < 4000; ++i) data += "c90000 0 0 90000 90000 90000-90000-90000-90000-90000-90000-90000";
  CHECK_THAT(refusal(svg(svg_path(data))), Contains("more detailed"));
}

TEST_CASE("too many loops, and limits that are asked for") {
  std::string circles;
  for (int i = 0; i < 6000; ++i) circles += dxf_circle({static_cast<double>(i), 0}, 0.3);
  CHECK_THAT(refusal(dxf(circles)), Contains("6000 closed loops"));
  intake::ReadOptions options;
  options.limits.file_bytes = 100;
  CHECK_THAT(refusal(kGood, options), Contains("larger than"));
}

TEST_CASE("files that are no files") {
  const auto told = [](const std::filesystem::path& path) -> std::string {
    try {
      intake::read_drawing_file(path);
    } catch (const intake::IntakeError& error) {
      return error.what();
    }
    return "";
  };
  CHECK_THAT(told("/"), Contains("folder"));
  CHECK_THAT(told("/nowhere/at/all.dxf"), Contains("no such file"));
  CHECK_THAT(told("/dev/zero"), Contains("no plain file"));
}

TEST_CASE("spoilt bytes are read or refused, never worse") {
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_SPOILT_DRAWINGS", {300, 3000, 100'000}, 1);
  const std::string svg_text = svg(
      R"svg(<g transform="rotate(3)"><path d="M0 0a5 5 0 1 0 5 5c1 2 3 4 5 6z"/><rect width="3" height="2" rx="1"/></g>)svg");
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    Random random(seed);
    std::string text = random.chance(0.5) ? kGood : svg_text;
    for (std::size_t n = random.count(1, 4); n > 0; --n) {
      const std::size_t at = random.index(text.size());
      if (random.chance(0.3))
        text.erase(at, random.count(1, 9));
      else if (random.chance(0.5))
        text.insert(at, text.substr(random.index(text.size()), random.count(1, 12)));
      else
        text[at] = "0123456789.-e \n<>\"azMLA"[random.index(23)];
      if (text.empty()) break;
    }
    INFO("seed " << seed);
    CHECK_NOTHROW(refusal(text));
  }
}
