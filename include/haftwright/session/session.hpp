// The program behind the window: what is open, what is asked, what is remembered. No window in it.
//
// The window calls request_*() and save*() for what the person wants, shows question() when there is one and
// answers it, asks for a file name when wants_path(), shows notices(), and calls tick() after each event and
// no later than next_tick(). Nothing here throws for bad input or a full disk: it becomes a notice, and what
// was open stays open.
#pragma once

#include <chrono>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <variant>
#include <vector>

#include "haftwright/edits/shop_values.hpp"
#include "haftwright/session/autosave.hpp"
#include "haftwright/session/bin_desk.hpp"
#include "haftwright/session/cutting_watch.hpp"
#include "haftwright/session/disk_stamp.hpp"
#include "haftwright/session/document.hpp"
#include "haftwright/session/jobs.hpp"
#include "haftwright/session/line_up_watch.hpp"
#include "haftwright/session/offcut_photos.hpp"
#include "haftwright/session/settings.hpp"
#include "haftwright/session/wood_watch.hpp"

namespace haftwright {

/// Something to tell the person once.
struct Notice {
  enum class Kind { done, warning, error };
  Kind kind = Kind::done;
  std::string title;               ///< "The file can't be opened"
  std::vector<std::string> lines;  ///< one problem each, in plain words; may be empty
};

enum class Choice { save, save_elsewhere, overwrite, discard, reload, keep, take_up, later, cancel };
/// What stands on the button: "Save", "Save as ...", "Don't save" ...
const char* label_of(Choice choice);

/// A question that waits for the person. At most one at a time.
struct Question {
  enum class Kind {
    unsaved,            ///< before another project is opened, or the end
    changed_on_disk,    ///< somebody else wrote the file
    gone_from_disk,     ///< somebody removed or renamed the file
    overwrite_changed,  ///< saving would undo what somebody else wrote
    left_behind,        ///< an earlier run kept unsaved work on the file that was opened just now
    replace_file        ///< saving or exporting under the name of a file that is there already
  };
  Kind kind = Kind::unsaved;
  std::string text;
  std::vector<Choice> choices;  ///< as the buttons should stand; the last one is what Escape means
};

class Session {
 public:
  using Clock = std::chrono::steady_clock;

  /// `config_folder` as in settings.hpp; `loaded`: the settings read there, whose report becomes a notice;
  /// `wake` and `work` as in jobs.hpp; `shop_file` as in files/shop_file.hpp, empty: the built-in values are
  /// in force and can't be changed. `bin_file`: the bin in force unless the settings name another; empty:
  /// there is none. Looks for work that was left behind.
  Session(std::filesystem::path config_folder, LoadedSettings loaded, std::function<void()> wake,
          Jobs::Work work = do_job, std::filesystem::path shop_file = {},
          std::filesystem::path bin_file = {});
  /// Work that is still unsaved (no request_quit() went through) stays in the autosave and is offered next
  /// time.
  ~Session();

  // --- What is open ---
  /// Null on the start page.
  Document* document() { return document_.get(); }
  const Document* document() const { return document_.get(); }
  /// The project's file, absolute; empty when never saved, or a sample's copy.
  const std::filesystem::path& path() const { return path_; }
  /// For the title bar: the project's name, else its file's, else "Untitled"; empty on the start page.
  std::string title() const;
  bool unsaved() const { return document_ && document_->unsaved(); }

  // --- What the person wants; unsaved work is asked about first ---
  /// Also for a dropped file and for the command line. A file that can't be read is told at once, before
  /// anything is asked. The file that is open already is read again, see reload(). A sample (samples.hpp) is
  /// opened as a copy without a file: unchanged it is not unsaved, and saving it asks where. Of a drawing
  /// (DXF, SVG) that leaves nothing to be asked comes a project without a file; of others the verb to use is
  /// told.
  void request_open(const std::filesystem::path& path);
  /// Opens `design` as a project without a file. One that does not pass validate() is told and not opened.
  void request_new(Design design);
  /// The same with the shop's values and measured holes in it.
  void request_new_in_shop(const Design& design);
  /// Back to the start page.
  void request_close();
  void request_quit();
  /// True once request_quit() went through.
  bool quitting() const { return quitting_; }

  /// Back to what the file holds, as a step that undo takes back; so nothing is asked.
  void reload();
  /// With no file yet, see wants_path().
  void save();
  void save_as(const std::filesystem::path& path);
  /// Call save_as() or give_up_path() once the person has named a file.
  bool wants_path() const { return wants_path_; }
  void give_up_path();

  const std::optional<Question>& question() const { return question_; }
  /// A choice that the question does not offer is taken as its last one.
  void answer(Choice choice);

  // --- Unsaved work of an earlier run ---
  const std::vector<Offer>& offers() const { return offers_; }
  /// Opens it as unsaved work on the file it came from.
  void request_restore(std::size_t offer);
  void discard_offer(std::size_t offer);

  // --- Files and facts made in the background ---
  /// Keeps unsaved work first (the kernel may crash), then starts. The end comes as a notice.
  void export_step(JobKind kind, const std::filesystem::path& path);
  /// For progress and cancel. Results are collected by tick().
  Jobs& jobs() { return jobs_; }
  /// Whether both sides line up: asked while it is shown, see line_up_watch.hpp. Answers are those of the
  /// project that is open.
  LineUpWatch& line_up() { return line_up_; }
  /// Everything found on the handle, worst first: by the checks at once, by the line-up (asked for here) as
  /// soon as its handles are drawn. None without a handle.
  struct AllFindings {
    std::vector<Finding> findings;
    bool line_up_pending = false;
  };
  AllFindings findings();

  // --- The shop beside the projects ---
  /// As its file holds it. Where that can't be read, which is told, what was in force before stays so: the
  /// built-in values in the beginning, as where there is none.
  const Shop& shop() const { return shop_; }
  bool shop_file_there() const { return shop_stamp_.has_value(); }
  /// The open project's values in those fields (edits/shop_values.hpp) become the shop's. The file is read
  /// anew first, so that nothing is lost that somebody else wrote, and written; where either fails, which is
  /// told, nothing changes.
  void teach_shop(const ShopFields& fields);

  // --- The bin of offcuts, and plans over it ---
  BinDesk& bin() { return bin_; }
  /// Another bin's file is in force from now on; remembered in the settings. Where it can't be read, which
  /// the bin tells, nothing changes.
  void open_bin(const std::filesystem::path& path);
  /// What is wished of plans; its project is filled in when they are asked for.
  CuttingWishes& cutting_wishes() { return wishes_; }
  /// What counts among plans that place as much, the most important first; remembered in the settings.
  void prefer(std::vector<nesting::Preference> order);
  /// The photo of an offcut of the bin as it is to be shown; null where there is none yet, or none at all.
  std::shared_ptr<const SquaredFace> photo_of(const Offcut& offcut);
  /// Asks for plans of the open project over the bin, if both are there; called while they are shown. With a
  /// draft open they are of the design before it.
  void want_cutting();
  CuttingWatch& cutting() { return cutting_; }
  /// Index of the plan that is looked at; the best again when the design or the wishes change.
  std::size_t chosen_plan() const { return chosen_plan_; }
  void choose_plan(std::size_t plan) { chosen_plan_ = plan; }
  /// Whether an answer is about the design and the bin as they are now, so that it can be acted on.
  bool in_force(const CuttingAnswer& answer);
  /// What the open project is called by its reservations: its name, else its file's. Empty when it has
  /// neither: then nothing can be reserved.
  std::string name_in_bin() const;
  /// The plan's offcuts are noted in the bin for this project, or taken out of it with what is left coming
  /// back: one step of the bin's. An answer that is not in_force() is refused, which the bin tells.
  void reserve(const CuttingAnswer& answer, std::size_t plan);
  void cut(const CuttingAnswer& answer, std::size_t plan);
  /// The wood of the chosen plan, for showing it: of the newest answer, which may be a moment older than the
  /// design. Called while it is shown, so that the plan follows the design. Null where nothing was planned
  /// yet; another pointer whenever something of it has changed.
  std::shared_ptr<const PlannedWoods> planned_woods();
  /// Blanks of the chosen plan that are in somebody's hand, on the board that they are over: planned_woods()
  /// shows them there and not where they were planned. None: nothing is carried.
  void show_carried(std::optional<BoardUse> carried);
  /// Writes the plan as a drawing (SVG); asks before a file is replaced. The end comes as a notice.
  void export_cutting(const CuttingAnswer& answer, std::size_t plan, const std::filesystem::path& path);

  // --- Telling and remembering ---
  /// Oldest first.
  const std::deque<Notice>& notices() const { return notices_; }
  void dismiss_notice();
  void tell(Notice notice) { notices_.push_back(std::move(notice)); }
  const Settings& settings() const { return settings_; }
  /// Written at once; a failure becomes a notice.
  void change_settings(Settings settings);

  // --- Time ---
  static constexpr std::chrono::milliseconds kAutosaveRest{1000};   ///< at least between two autosaves
  static constexpr std::chrono::milliseconds kAutosaveDraft{5000};  ///< the same while a draft is open
  static constexpr std::chrono::milliseconds kDiskRest{2000};       ///< between two looks at the file
  /// Collects results of jobs, keeps unsaved work, looks whether the file was changed.
  void tick(Clock::time_point now);
  /// When tick() is wanted at the latest; none: only after events.
  std::optional<Clock::time_point> next_tick() const;
  /// Looks at the files of project and shop now, as when the window gets the focus back.
  void look_at_disk();

 private:
  struct OpenFile {
    std::filesystem::path path;
    std::shared_ptr<const Design> design;
    std::optional<DiskStamp> stamp;
  };
  struct NewProject {
    Design design;
  };
  struct TextFile {
    std::string what;  ///< "Cutting drawing"
    std::filesystem::path path;
    std::string text;
  };
  /// What planned_woods() gave last, and of what.
  struct ShownWoods {
    std::shared_ptr<const CuttingAnswer> answer;
    std::size_t plan = 0;
    std::shared_ptr<const Handle> handle;
    std::uint64_t photos = 0;
    std::uint64_t carried = 0;
    Clock::time_point looked_at;
    std::shared_ptr<const PlannedWoods> woods;
  };
  struct CloseProject {};
  struct Quit {};
  struct Restore {
    Offer offer;
  };
  /// What waits until unsaved work is out of the way.
  using Action = std::variant<OpenFile, NewProject, CloseProject, Quit, Restore>;

  std::optional<OpenFile> read(const std::filesystem::path& path);
  void request(Action action);
  void perform(Action action);
  void perform_pending();
  void forget_pending();
  void show(Design design, std::shared_ptr<const Design> saved, const std::filesystem::path& path,
            std::optional<DiskStamp> stamp);
  void show_nothing();
  /// The latest unsaved work on this file; offers stand latest first.
  std::optional<Offer> left_behind(const std::filesystem::path& path) const;
  void restore(const Offer& offer);

  void take_in_shop();
  void look_at_shop();
  /// The answer's plan for an edit of the bin; null, and the bin tells why, when it can't be acted on.
  const CuttingPlan* plan_to_act_on(const CuttingAnswer& answer, std::size_t plan);

  void ask(Question::Kind kind, const std::filesystem::path& about);
  void ask_for_path();
  void answer_overwrite();
  void keep_mine();
  bool disk_holds_the_same();
  bool write(const std::filesystem::path& path);

  Clock::time_point keep_due() const;
  void keep_work(Clock::time_point now, bool at_once);
  bool may_export(const std::filesystem::path& full);
  void start_export();
  void write_text();
  void take_results();
  void take_file(const JobResult& result);
  void remember_recent(const std::filesystem::path& path);
  void store_settings();
  void tell_error(std::string title, std::string line);

  std::filesystem::path config_folder_;
  Settings settings_;
  std::vector<Offer> offers_;
  std::deque<Notice> notices_;

  std::filesystem::path shop_file_;
  Shop shop_;
  std::optional<DiskStamp> shop_stamp_;  ///< none: there is no file

  std::unique_ptr<Document> document_;
  std::filesystem::path path_;
  std::optional<DiskStamp> stamp_;  ///< none: saving over a file that is there is asked about

  std::optional<Question> question_;
  std::filesystem::path question_path_;       ///< the file that the question is about
  std::optional<Action> pending_;             ///< waits for the question, or for a file name
  std::optional<JobRequest> pending_export_;  ///< waits for replace_file
  std::optional<TextFile> pending_text_;      ///< the same
  bool wants_path_ = false;
  bool quitting_ = false;

  Autosave autosave_;
  std::shared_ptr<const Design> kept_;  ///< what the autosave holds
  std::optional<Clock::time_point> kept_at_;
  std::optional<Clock::time_point> looked_at_;
  bool told_not_kept_ = false;

  std::set<std::filesystem::path> exported_;  ///< may be written again without asking
  BinDesk bin_;
  CuttingWishes wishes_;
  std::size_t chosen_plan_ = 0;
  CuttingWatch cutting_;
  WoodWatch wood_photos_;
  ShownWoods shown_woods_;
  std::optional<BoardUse> carried_;
  std::uint64_t carried_number_ = 0;  ///< another one for every place of what is carried
  LineUpWatch line_up_;
  OffcutPhotos photos_;
  Jobs jobs_;
};

}  // namespace haftwright
