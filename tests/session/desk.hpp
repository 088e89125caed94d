// A session with projects on disk, as the tests of the session need it.
#pragma once

#include <atomic>
#include <thread>

#include "haftwright/edits/edits.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/session/session.hpp"
#include "support/designs.hpp"
#include "temporary_folder.hpp"

namespace haftwright {

namespace fs = std::filesystem;
using namespace std::chrono_literals;
using Kind = Question::Kind;

/// A session with a project of its own open, and another one to open.
struct Desk {
  test::TemporaryFolder files, config;
  fs::path knife = files / "knife.json";
  fs::path other = files / "other.json";
  fs::path shop_file = files / "data/shop.json";  ///< not there yet, nor its folder
  fs::path bin_file = files / "data/bin.json";    ///< the same
  std::atomic<bool> hold = false;
  std::unique_ptr<Session> session;
  Session::Clock::time_point now = Session::Clock::now();

  explicit Desk(bool open = true) {
    write_project(test::starter(), knife);
    Design second = test::starter();
    second.name = "other";
    write_project(second, other);
    start();
    if (open) session->request_open(knife);
  }
  void start() {
    session.reset();
    session = std::make_unique<Session>(
        config.path(), load_settings(config.path()), [] {},
        [this](const auto& request, const auto& context) { return work(request, context); }, shop_file,
        bin_file);
  }
  JobOutcome work(const JobRequest& request, const JobContext& context) const {
    while (hold && !context.stop.stop_requested()) std::this_thread::sleep_for(200us);
    if (context.stop.stop_requested()) throw Cancelled{};
    if (request.product_name == "fails") return JobFailed{"first\nsecond"};
    return FileWritten{request.path, 1, {}, request.kind == JobKind::handle_step};
  }

  Document& document() { return *session->document(); }
  const Design& design() { return document().design(); }
  void edit(double by = 1) {
    document().apply("move joint",
                     move_joint(design(), Which::left, 0, design().left.joints[0].place_mm + by));
  }
  void tick(std::chrono::milliseconds later = 10s) { session->tick(now += later); }
  bool asks(Kind kind) const { return session->question() && session->question()->kind == kind; }
  std::string notice() {
    if (session->notices().empty()) return "";
    std::string text = session->notices().front().title;
    for (const std::string& line : session->notices().front().lines) text += "\n" + line;
    session->dismiss_notice();
    return text;
  }
  /// Somebody else's version.
  void change_outside(const fs::path& path) {
    Design theirs = read_project(path);
    theirs.note += "changed outside ";
    write_project(theirs, path);
    fs::last_write_time(path, fs::last_write_time(path) + 1min);
  }
  void finish_jobs() {
    for (int i = 0; i < 10000 && session->jobs().busy(); ++i) std::this_thread::sleep_for(200us);
    REQUIRE_FALSE(session->jobs().busy());
    tick(0ms);
  }
};

}  // namespace haftwright
