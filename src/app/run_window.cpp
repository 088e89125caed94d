#include <algorithm>
#include <chrono>
#include <iostream>
#include <tuple>
#include <utility>

#include "haftwright/app/app.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/files/folders.hpp"
#include "haftwright/files/shop_file.hpp"
#include "shell.hpp"
#include "window.hpp"

namespace haftwright {
namespace {

/// An event posted from another thread can get lost in the window system: while an answer is on its way the
/// window does not sleep on it alone.
constexpr double kAnswerWake = 0.1;  // s

double seconds_until(const std::optional<Session::Clock::time_point>& when) {
  constexpr double kIdle = 3600;
  if (!when) return kIdle;
  return std::max(0.0, std::chrono::duration<double>(*when - Session::Clock::now()).count());
}

}  // namespace

int run_window(const std::filesystem::path& project) {
  const std::filesystem::path config = config_folder();
  LoadedSettings loaded = load_settings(config);
  const Settings& settings = loaded.settings;
  try {
    app::Window window({settings.window_width, settings.window_height, settings.text_scale});
    Session session(
        config, std::move(loaded), [&window] { window.wake(); }, do_job, shop_file(), bin_file());
    app::Shell shell(window, session);
    if (!project.empty()) session.request_open(project);
    window.draw = [&shell] { shell.frame(); };
    window.dropped = [&session](const std::vector<std::filesystem::path>& files) {
      if (!files.empty()) session.request_open(files.front());
    };
    window.may_close = [&session] {
      session.request_quit();
      return session.quitting();
    };
    window.next_wake_s = [&session] {
      const double tick = seconds_until(session.next_tick());
      return session.line_up().busy() || session.cutting().busy() ? std::min(tick, kAnswerWake) : tick;
    };
    window.due = [&session, told = session.line_up().answer()]() mutable {
      if (session.line_up().answer() != told) {
        told = session.line_up().answer();
        return true;
      }
      const auto shown = [&session] {
        return std::tuple(session.question().has_value(), session.notices().size(), session.unsaved(),
                          session.shop(), session.bin().revision());
      };
      const auto before = shown();
      session.tick(Session::Clock::now());
      return shown() != before;
    };
    window.run();
    Settings last = session.settings();
    last.window_width = window.width();
    last.window_height = window.height();
    if (last != session.settings()) session.change_settings(last);
    return 0;
  } catch (const app::WindowError& error) {
    std::cerr << "haftwright: " << error.what() << "\n";
    return 2;
  }
}

}  // namespace haftwright
