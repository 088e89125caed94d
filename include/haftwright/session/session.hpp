// The program behind the window: what is open, what is asked, what is remembered. No window in it.
//
// The window calls request_*() and save*() for what the person wants, shows question() when there is one and
// answers it, shows notices(), and calls tick() after each event and no later than next_tick(). Nothing here
// throws for bad input or a full disk: it becomes a notice and what was open stays open.
#pragma once

#include <chrono>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "haftwright/session/autosave.hpp"
#include "haftwright/session/disk_stamp.hpp"
#include "haftwright/session/document.hpp"
#include "haftwright/session/jobs.hpp"
#include "haftwright/session/settings.hpp"

namespace haftwright {

/// Something to tell the person once.
struct Notice {
  enum class Kind { done, warning, error };
  Kind kind = Kind::done;
  std::string title;               ///< "The file could not be opened"
  std::vector<std::string> lines;  ///< one problem each, in plain words; may be empty
};

enum class Choice { save, save_elsewhere, overwrite, discard, reload, keep, cancel };
/// What stands on the button: "Save", "Save as ...", "Don't save" ...
const char* label_of(Choice choice);

/// A question that waits for the person. At most one at a time.
struct Question {
  enum class Kind {
    unsaved,            ///< before another project is opened, or the end: save, discard, cancel
    changed_on_disk,    ///< somebody else wrote the file: reload, keep
    gone_from_disk,     ///< somebody removed or renamed the file: keep, save_elsewhere
    overwrite_changed,  ///< saving would undo what somebody else wrote: overwrite, save_elsewhere, cancel
    replace_file        ///< saving under the name of another file: overwrite, save_elsewhere, cancel
  };
  Kind kind = Kind::unsaved;
  std::string text;
  std::vector<Choice> choices;  ///< as the buttons should stand; the last one is what Escape means
};

class Session {
 public:
  using Clock = std::chrono::steady_clock;

  /// `config_folder` as in settings.hpp; `wake` and `work` as in jobs.hpp. Reads the settings and looks for
  /// work that was left behind.
  explicit Session(std::filesystem::path config_folder, std::function<void()> wake, Jobs::Work work = do_job);
  /// A clean end: settings written, nothing left in the autosave.
  ~Session();

  // --- What is open ---
  /// Null on the start page.
  Document* document() { return document_.get(); }
  const Document* document() const { return document_.get(); }
  /// Empty when never saved.
  const std::filesystem::path& path() const { return path_; }
  /// For the title bar: the project's name, else its file's, else "Untitled".
  std::string title() const;
  bool unsaved() const { return document_ && document_->unsaved(); }

  // --- What the person wants. Unsaved work is asked about first, except where that is said ---
  /// Also for a dropped file and for the command line. A file that can't be read is told at once, before
  /// anything is asked.
  void request_open(const std::filesystem::path& path);
  void request_new(Design design);
  void request_close();
  void request_quit();
  /// Back to what the file holds.
  void request_reload();
  /// True once request_quit() went through.
  bool quitting() const { return quitting_; }

  /// With no file name yet it asks for one: see wants_path().
  void save();
  void save_as(const std::filesystem::path& path);
  /// The window should ask for a file name now, then call save_as() or give_up_path().
  bool wants_path() const { return wants_path_; }
  void give_up_path();

  const std::optional<Question>& question() const { return question_; }
  /// Choices that the question does not offer are taken as its last one.
  void answer(Choice choice);

  // --- Unsaved work of an earlier run ---
  const std::vector<Offer>& offers() const { return offers_; }
  /// Opens it as unsaved work on the file it came from.
  void request_restore(std::size_t offer);
  void discard_offer(std::size_t offer);

  // --- Files made in the background ---
  /// Keeps unsaved work first, then starts. The end comes as a notice.
  void export_step(JobKind kind, const std::filesystem::path& path);
  Jobs& jobs() { return jobs_; }
  /// Facts of the exact bodies for the Design they were asked for; null before that.
  struct ExactFacts {
    std::shared_ptr<const Design> design;
    std::vector<BodyFacts> bodies;
    std::string problem;  ///< why there are none
  };
  void request_exact_facts();
  const std::optional<ExactFacts>& exact_facts() const { return exact_facts_; }

  // --- Telling and remembering ---
  const std::deque<Notice>& notices() const { return notices_; }
  void dismiss_notice();
  void tell(Notice notice) { notices_.push_back(std::move(notice)); }
  const Settings& settings() const { return settings_; }
  /// Written at once; a failure becomes a notice.
  void change_settings(const Settings& settings);

  // --- Time ---
  static constexpr std::chrono::milliseconds kAutosaveRest{1000};   ///< at least between two autosaves
  static constexpr std::chrono::milliseconds kAutosaveDraft{5000};  ///< the same while a draft is open
  static constexpr std::chrono::milliseconds kDiskRest{2000};       ///< between two looks at the file
  /// Collects results of jobs, keeps unsaved work, looks whether the file was changed.
  void tick(Clock::time_point now);
  /// When tick() is wanted at the latest; none: only after events.
  std::optional<Clock::time_point> next_tick() const;
  /// Look at the file now, as when the window gets the focus back.
  void look_at_disk();

 private:
  struct OpenFile {
    std::filesystem::path path;
    Design design;
    std::optional<DiskStamp> stamp;
  };
  struct NewProject {
    Design design;
  };
  struct CloseProject {};
  struct Quit {};
  struct Restore {
    Offer offer;
  };
  using Action = std::variant<OpenFile, NewProject, CloseProject, Quit, Restore>;

  void request(Action action);
  void perform(Action action);
  void perform_pending();
  void forget_pending();
  void open_document(Design design, std::shared_ptr<const Design> saved, std::filesystem::path path,
                     std::optional<DiskStamp> stamp);
  bool read(const std::filesystem::path& path, OpenFile& file);
  void ask(Question::Kind kind);
  void ask_for_path();
  bool write(const std::filesystem::path& path);
  void keep_work(Clock::time_point now);
  void take_results();
  void take_facts(JobResult result);
  void remember_recent(const std::filesystem::path& path);
  void store_settings();

  std::filesystem::path config_folder_;
  Settings settings_;
  std::vector<Offer> offers_;
  std::deque<Notice> notices_;

  std::unique_ptr<Document> document_;
  std::filesystem::path path_;
  std::optional<DiskStamp> stamp_;
  DiskChange told_change_ = DiskChange::none;

  std::optional<Question> question_;
  std::optional<Action> pending_;       ///< what waits for the question, or for a file name
  std::filesystem::path pending_path_;  ///< what save_as was asked for
  bool wants_path_ = false;
  bool quitting_ = false;

  Autosave autosave_;
  std::shared_ptr<const Design> kept_;  ///< what the autosave holds
  Clock::time_point kept_at_{};
  Clock::time_point looked_at_{};
  std::optional<ExactFacts> exact_facts_;
  Jobs jobs_;
};

}  // namespace haftwright
