// The bin of offcuts on the disk: read as strictly as a project, written as safely, never over what somebody
// else has written.
#include "haftwright/files/bin_file.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <thread>

#include "good_bin.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/shop_file.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "haftwright/offcuts/bin_edits.hpp"
#include "own_folder.hpp"
#include "support/random_bin.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
namespace fs = std::filesystem;

namespace {

/// What reading ends in: "accepted", or the message.
std::string said(const std::string& text) {
  try {
    parse_bin(text);
    return "accepted";
  } catch (const InputError& error) {
    return error.what();
  }
}

std::string with(const std::string& from, const std::string& to) {
  std::string text = test::kGoodBin;
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

Bin with_note(Bin bin, const std::string& note) {
  bin.note = note;
  return bin;
}

}  // namespace

TEST_CASE("a good bin is read, what it leaves out at its default") {
  const Bin bin = parse_bin(test::kGoodBin);
  REQUIRE(bin.offcuts.size() == 3);
  const Offcut& thwart = bin.offcuts[0];
  CHECK(thwart.id == "thwart");
  CHECK(rectangle_size(thwart.outline) == FlatSize{5 * 25.4, 40});
  CHECK(thwart.show_faces == (upper_face | lower_face));
  CHECK(thwart.alike == 1);
  CHECK(thwart.grain == Grain{4, 1, 0});
  REQUIRE(thwart.defects.size() == 1);
  CHECK(thwart.defects[0].kind == DefectKind::knot);
  CHECK(Outline(thwart.defects[0].outline).area_mm2() == Approx(3.14159265358979 * 9).epsilon(1e-12));
  REQUIRE(thwart.photos.size() == 1);
  CHECK(thwart.photos[0].marks[2] == PhotoMark{{1800, 300}, {127, 40}});
  CHECK(thwart.photos[0].lens_k1 == -0.01);
  CHECK(thwart.photos[0].camera_height_mm == 450);
  CHECK(thwart.reserved == std::vector<Reservation>{{"shucking knife", "left rear"}});
  CHECK(bin.offcuts[1].id == "lignum_end");  // of its name
  CHECK(bin.offcuts[1].show_faces == upper_face);
  CHECK(bin.offcuts[1].outline.size() == 3);
  CHECK(bin.offcuts[2].id == "offcut_3");
  CHECK(bin.sheets.at(0).thickness_mm == 0.8);
  CHECK(bin.rods.at(0).stock.nominal_mm == Approx(25.4 / 8).epsilon(1e-15));
  CHECK(bin.shown_unit == LengthUnit::inch);
  CHECK(parse_bin("{\"haftwright_bin\": 1}") == Bin{});
}

TEST_CASE("what was written of a bin reads back equal, and a second text is the first, byte for byte") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_BINS", {100, 1000, 10000}, 0);
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    CAPTURE(seed);
    const Bin bin = test::random_bin(seed);
    const std::string text = bin_text(bin);
    REQUIRE(parse_bin(text) == bin);
    REQUIRE(bin_text(parse_bin(text)) == text);
  }
}

TEST_CASE("a rectangle at the origin is written as its size, any other outline by its nodes") {
  Bin bin;
  bin.offcuts = {{"a", "", "olive", rectangle({120, 40}), 20}};
  CHECK(bin_text(bin).find("\"size\": {\"length_mm\": 120, \"width_mm\": 40}") != std::string::npos);
  bin.offcuts[0].outline[2].at.x = 119;
  CHECK(bin_text(bin).find("\"size\"") == std::string::npos);
  CHECK(parse_bin(bin_text(bin)) == bin);
}

TEST_CASE("what is wrong with a bin file names its field") {
  CHECK(said(with("\"haftwright_bin\": 1", "\"haftwright_bin\": 2"))
            .find("haftwright_bin: this bin of offcuts was saved by a newer Haftwright (format 2)") == 0);
  CHECK(said("{\"haftwright_shop\": 1}").find("haftwright_bin: is missing: this is a Haftwright shop file") ==
        0);
  CHECK(said(with("\"kept_at\"", "\"kept_att\"")) ==
        "offcuts[0]: unknown key \"kept_att\"; did you mean \"kept_at\"?");
  CHECK(said(with("\"size\": {\"length_mm\": \"5 in\", \"width_mm\": 40}", "\"alike\": 1")) ==
        "offcuts[0].outline: is missing; give it, or size");
  CHECK(said(with("\"kept_at\": \"box 3\"", "\"outline\": []")) ==
        "offcuts[0].size: give outline or size, not both");
  CHECK(said(with("\"width_mm\": 40", "\"width_mm\": -40"))
            .find("offcuts[0].size.width_mm: must be more than 0") == 0);
  CHECK(said(with("\"width_mm\": 40", "\"with_mm\": 40")) ==
        "offcuts[0].size: unknown key \"with_mm\"; did you mean \"width_mm\"?");
  for (const char* number : {"0", "1000", "1e30", "1.5", "-3", "4294967297"})
    CHECK(said(with("\"kept_at\": \"box 3\"", std::string("\"alike\": ") + number))
              .find("offcuts[0].alike: must be a whole number from 1 to 999, but is ") == 0);
  CHECK(said(with("\"kept_at\": \"box 3\"", "\"alike\": \"two\"")) ==
        "offcuts[0].alike: must be a whole number, but is a text");
  CHECK(said(with("\"knot\"", "\"not\""))
            .find("offcuts[0].defects[0].kind: must be one of \"knot\", \"check\"") == 0);
  CHECK(
      said(with("\"black_walnut\"", "\"blak_walnut\"")).find("offcuts[0].material: no material is called") ==
      0);
}

TEST_CASE("a bin is known by its marker, and neither project nor shop file passes for one") {
  const auto refused = [](const auto& read) {
    try {
      read();
      return std::string("accepted");
    } catch (const InputError& error) {
      return std::string(error.what());
    }
  };
  CHECK(refused([] { parse_project(test::kGoodBin); }).find("this is a Haftwright bin of offcuts") !=
        std::string::npos);
  CHECK(refused([] { parse_shop(test::kGoodBin); }).find("this is a Haftwright bin of offcuts") !=
        std::string::npos);
}

TEST_CASE(
    "a bin that is not there is empty, one that can't be read is an error, and saving makes its folder") {
  const test::Folder folder;
  const fs::path path = folder / "below" / "bin.json";
  CHECK(read_bin(path) == Bin{});
  const Bin bin = test::random_bin(4);
  write_bin(bin, path);
  CHECK(read_bin(path) == bin);
  CHECK_THROWS_AS(read_bin(folder.path()), InputError);
  CHECK_THROWS_AS(write_bin(bin, path, OldFile::refuse), OutputError);
  Bin bad = bin;
  bad.offcuts[0].thickness_mm = 0;
  CHECK_THROWS_AS(write_bin(bad, folder / "none" / "bin.json"), InputError);
  CHECK_FALSE(fs::exists(folder / "none"));
  CHECK(read_bin(path) == bin);
}

TEST_CASE("a bin that somebody else has changed is not written over") {
  const test::Folder folder;
  const fs::path path = folder / "bin.json";
  const Bin bin = test::random_bin(7);
  const std::string first = write_bin_over(bin, path, std::nullopt);
  CHECK(test::content(path) == first);
  CHECK_THROWS_AS(write_bin_over(bin, path, std::nullopt), BinChanged);
  const std::string second = write_bin_over(with_note(bin, "mine"), path, first);
  CHECK_THROWS_AS(write_bin_over(with_note(bin, "late"), path, first), BinChanged);
  CHECK(read_bin(path).note == "mine");
  // A text editor takes no lock, and is noticed all the same.
  test::put(path, second + "\n");
  CHECK_THROWS_AS(write_bin_over(bin, path, second), BinChanged);
  CHECK(test::content(path) == second + "\n");
  fs::remove(path);
  CHECK_THROWS_AS(write_bin_over(bin, path, second), BinChanged);
  CHECK(folder.entries() == 0);
}

TEST_CASE("an edit without effect writes nothing") {
  const test::Folder folder;
  const fs::path path = folder / "bin.json";
  change_bin(folder / "none" / "bin.json", [](const Bin& bin) { return bin; });
  CHECK_FALSE(fs::exists(folder / "none"));
  // Not as the program would write it, so that a rewrite would show.
  test::put(path, test::kGoodBin);
  change_bin(path, [](const Bin& bin) { return bin; });
  CHECK(test::content(path) == test::kGoodBin);
  CHECK_THROWS_AS(change_bin(path, [](const Bin&) -> Bin { throw InputError("", "no"); }), InputError);
  CHECK_THROWS_AS(change_bin(path,
                             [](Bin bin) {
                               bin.offcuts[0].thickness_mm = -1;
                               return bin;
                             }),
                  InputError);
  CHECK(test::content(path) == test::kGoodBin);
  CHECK_THROWS_AS(change_bin(path,
                             [&](Bin bin) {
                               test::put(path, "{\"haftwright_bin\": 1}");  // takes no lock
                               bin.note = "mine";
                               return bin;
                             }),
                  BinChanged);
  CHECK(test::content(path) == "{\"haftwright_bin\": 1}");
}

TEST_CASE("many who change one bin at once lose nothing of each other's") {
  const test::Folder folder;
  const fs::path path = folder / "bin.json";
  write_bin({}, path);
  constexpr int kThreads = 4, kEach = 25;
  std::atomic<int> failures = 0;
  {
    std::vector<std::jthread> crowd;
    for (int thread = 0; thread < kThreads; ++thread)
      crowd.emplace_back([&, thread] {
        for (int i = 0; i < kEach; ++i) {
          const std::string id = "o" + std::to_string(thread) + "_" + std::to_string(i);
          try {
            change_bin(path, [&](const Bin& bin) {
              return *add(bin, Offcut{id, "", "olive", rectangle({100, 30}), 10});
            });
          } catch (const std::exception&) {
            ++failures;
          }
        }
      });
  }
  CHECK(failures == 0);
  CHECK(read_bin(path).offcuts.size() == kThreads * kEach);
  CHECK(folder.entries() == 1);
}

TEST_CASE("pictures lie in a folder beside the bin, each once, and a missing one is named") {
  const test::Folder folder;
  const fs::path path = folder / "bin.json";
  CHECK(picture_folder(path) == folder / "bin-pictures");
  fs::create_directory(folder / "camera");
  const fs::path picture = folder / "camera" / "top.jpg";
  test::put(picture, "one");
  CHECK(keep_picture(picture, path) == "top.jpg");
  CHECK(keep_picture(picture, path) == "top.jpg");
  test::put(picture, "another");
  CHECK(keep_picture(picture, path) == "top_2.jpg");
  CHECK(test::content(folder / "bin-pictures" / "top.jpg") == "one");
  CHECK(test::content(folder / "bin-pictures" / "top_2.jpg") == "another");
  test::put(picture, "");
  CHECK_THROWS_AS(keep_picture(picture, path), InputError);
  CHECK_THROWS_AS(keep_picture(folder / "nowhere.jpg", path), InputError);
  Bin bin;
  bin.offcuts = {{"a", "", "olive", rectangle({100, 30}), 10}, {"b", "", "olive", rectangle({100, 30}), 10}};
  bin.offcuts[0].photos = {{"top.jpg"}, {"gone.jpg"}};
  bin.offcuts[1].photos = {{"top_2.jpg"}};
  const auto missing = missing_photos(bin, path);
  REQUIRE(missing.size() == 1);
  CHECK(missing[0].offcut == "a");
  CHECK(missing[0].file == "gone.jpg");
}

TEST_CASE("a bin may be larger than a project, but not without limit") {
  std::string text = "{\"haftwright_bin\": 1" + std::string(limits::kFileBytes, ' ') + "}";
  CHECK(said(text) == "accepted");
  text.insert(20, std::string(limits::kBinBytes, ' '));
  CHECK(said(text).find("is larger than 33554432 bytes, the most a bin of offcuts may have") !=
        std::string::npos);
}
