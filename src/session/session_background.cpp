// The part of the session that happens beside what the person does: autosave, jobs, settings.
#include <algorithm>
#include <utility>

#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/session.hpp"
#include "small_files.hpp"

namespace haftwright {

using namespace session;
namespace {

namespace fs = std::filesystem;

std::vector<std::string> split_lines(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    lines.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return lines;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace

// --- Time ---------------------------------------------------------------------------------------------

void Session::tick(Clock::time_point now) {
  take_results();
  if (!document_ || quitting_) return;
  keep_work(now, false);
  if (!looked_at_) looked_at_ = now;
  if (now - *looked_at_ >= kDiskRest) {
    looked_at_ = now;
    look_at_disk();
  }
}

std::optional<Session::Clock::time_point> Session::next_tick() const {
  if (!document_ || quitting_) return std::nullopt;
  std::optional<Clock::time_point> next;
  const auto no_later_than = [&next](Clock::time_point when) { next = next ? std::min(*next, when) : when; };
  if (stamp_ || bin_.watched()) no_later_than(looked_at_ ? *looked_at_ + kDiskRest : Clock::time_point{});
  if (unsaved() && kept_ != document_->snapshot()) no_later_than(keep_due());
  return next;
}

// --- Autosave -----------------------------------------------------------------------------------------

Session::Clock::time_point Session::keep_due() const {
  if (!kept_at_) return {};
  return *kept_at_ + (document_->drafting() ? kAutosaveDraft : kAutosaveRest);
}

void Session::keep_work(Clock::time_point now, bool at_once) {
  if (!unsaved()) {
    autosave_.clear();
    kept_ = nullptr;
    return;
  }
  if (kept_ == document_->snapshot() || (!at_once && now < keep_due())) return;
  kept_at_ = now;
  try {
    const auto content = stamp_ ? std::optional(stamp_->content) : std::nullopt;
    autosave_.keep(document_->design(), path_, content);
    kept_ = document_->snapshot();
    told_not_kept_ = false;
  } catch (const std::exception& error) {
    if (!std::exchange(told_not_kept_, true))
      tell_error("Unsaved work can't be kept safe; save often", error.what());
  }
}

// --- Jobs -----------------------------------------------------------------------------------------------

void Session::export_step(JobKind kind, const fs::path& path) {
  if (!document_) return;
  document_->commit();
  forget_pending();
  const fs::path full = full_path(path);
  if (!may_export(full)) return;
  pending_export_ = {kind, document_->snapshot(), full, title()};
  std::error_code error;
  if (fs::exists(full, error) && !exported_.contains(full)) return ask(Question::Kind::replace_file, full);
  start_export();
}

/// False, and it is told, for a file that holds what the export is made from.
bool Session::may_export(const fs::path& full) {
  std::error_code error;
  if (full == path_ || fs::equivalent(full, path_, error)) {
    tell_error("Nothing was written", "That is the project's own file; choose another name.");
    return false;
  }
  return true;
}

void Session::start_export() {
  keep_work(Clock::now(), true);
  exported_.insert(pending_export_->path);
  jobs_.start(*std::exchange(pending_export_, std::nullopt));
}

void Session::take_results() {
  while (const auto result = jobs_.take_result()) take_file(*result);
}

void Session::take_file(const JobResult& result) {
  const std::string what = name_of(result.request.kind);
  if (const auto* written = std::get_if<FileWritten>(&result.outcome)) {
    Notice notice{Notice::Kind::done, capital(what) + " written", {written->path.string()}};
    if (written->checks_fail) {
      notice.kind = Notice::Kind::warning;
      notice.lines.push_back("Some checks fail: read the findings before you drill.");
    }
    for (const std::string& warning : written->warnings) {
      notice.kind = Notice::Kind::warning;
      notice.lines.push_back(capital(warning) + ".");
    }
    tell(std::move(notice));
  } else if (const auto* failed = std::get_if<JobFailed>(&result.outcome)) {
    tell({Notice::Kind::error, "The " + what + " was not written", split_lines(failed->why)});
  } else {
    tell({Notice::Kind::done, "Stopped: the " + what + " was not written", {}});
  }
}

Session::AllFindings Session::findings() {
  const Answers* answers = document_ ? document_->answers() : nullptr;
  if (!answers || !answers->laid_out()) return {};
  line_up_.want_own_way(answers->design);
  const auto line_up = line_up_.answer();
  AllFindings all{answers->findings, !line_up || line_up->design != answers->design};
  if (all.line_up_pending) return all;
  all.findings.insert(all.findings.end(), line_up->findings.begin(), line_up->findings.end());
  sort_worst_first(all.findings);
  return all;
}

// --- Telling and remembering ------------------------------------------------------------------------

void Session::dismiss_notice() {
  if (!notices_.empty()) notices_.pop_front();
}

void Session::tell_error(std::string title, std::string line) {
  tell({Notice::Kind::error, std::move(title), {std::move(line)}});
}

void Session::change_settings(Settings settings) {
  if (settings == settings_) return;
  settings_ = std::move(settings);
  store_settings();
}

void Session::remember_recent(const fs::path& path) {
  add_recent(settings_, path);
  store_settings();
}

void Session::store_settings() {
  try {
    save_settings(settings_, config_folder_);
  } catch (const std::exception& error) {
    tell_error("The settings can't be kept", error.what());
  }
}

}  // namespace haftwright
