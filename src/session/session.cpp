#include "haftwright/session/session.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

#include "haftwright/design/validate.hpp"
#include "haftwright/drawn/drawn_tang.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/session/samples.hpp"
#include "session_words.hpp"
#include "small_files.hpp"

namespace haftwright {

using namespace session;
namespace {

namespace fs = std::filesystem;

/// For std::visit: one lambda for each kind.
template <class... Each>
struct Cases : Each... {
  using Each::operator()...;
};
template <class... Each>
Cases(Each...) -> Cases<Each...>;

/// By its name's ending.
bool is_drawing(const fs::path& path) {
  std::string ending = path.extension().string();
  for (char& c : ending) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return ending == ".dxf" || ending == ".svg";
}

struct DrawnProject {
  std::optional<Design> design;
  Notice notice;
};

/// Only what leaves nothing to be asked; the notice says so, or what is to be asked and how.
DrawnProject project_of_drawing(const fs::path& path, const Shop& shop, LengthUnit unit) {
  const std::string verb = "'haftwright import " + path.filename().string() + "'";
  try {
    Design design = with_shop(design_of_drawing(path, shop.rules, unit), shop);
    design.name = path.stem().string();
    lay_out(design);
    return {std::move(design),
            {Notice::Kind::done,
             "A tang out of a drawing",
             {"It lies as it is drawn, its front at the left. Put in how thick the steel is. To lay it out "
              "another way run " +
              verb + "."}}};
  } catch (const InputError& error) {
    std::vector<std::string> lines = words::lines_of(error.problems());
    lines.push_back("Run " + verb + ", which has options for what a drawing leaves open.");
    return {{}, {Notice::Kind::error, "The drawing can't be brought in", std::move(lines)}};
  }
}

}  // namespace

Session::Session(fs::path config_folder, LoadedSettings loaded, std::function<void()> wake, Jobs::Work work,
                 fs::path shop_file, fs::path bin_file)
    : config_folder_(std::move(config_folder)),
      shop_file_(std::move(shop_file)),
      autosave_(config_folder_),
      bin_(loaded.settings.bin.empty() || bin_file.empty() ? std::move(bin_file) : loaded.settings.bin),
      cutting_(wake),
      wood_photos_(wake),
      line_up_(wake),
      photos_(wake),
      jobs_(std::move(wake), std::move(work)) {
  settings_ = std::move(loaded.settings);
  wishes_.order = settings_.cutting_order;
  if (!loaded.report.empty())
    tell({Notice::Kind::warning, "The settings were set back", {std::move(loaded.report)}});
  LeftBehind left = find_left_behind(config_folder_);
  offers_ = std::move(left.offers);
  if (!left.unreadable.empty())
    tell({Notice::Kind::warning, "Some unsaved work can't be read any longer", std::move(left.unreadable)});
  if (!shop_file_.empty()) take_in_shop();
}

Session::~Session() {
  if (document_ && !quitting_) keep_work(Clock::now(), true);
}

std::string Session::title() const {
  if (!document_) return "";
  if (!document_->design().name.empty()) return document_->design().name;
  return path_.empty() ? "Untitled" : path_.stem().string();
}

// --- Asking first, then doing -----------------------------------------------------------------------------

void Session::request_open(const fs::path& path) {
  if (is_drawing(path)) {
    look_at_shop();
    const DrawnProject drawn = project_of_drawing(path, shop_, settings_.unit);
    if (drawn.design) request_new(*drawn.design);
    return tell(drawn.notice);
  }
  if (document_ && full_path(path) == path_) return reload();
  if (auto file = read(path)) request(std::move(*file));
}

void Session::request_new(Design design) {
  const std::vector<Problem> problems = validate(design);
  if (problems.empty())
    request(NewProject{std::move(design)});
  else
    tell({Notice::Kind::error, "The project can't be made", words::lines_of(problems)});
}

void Session::request_new_in_shop(const Design& design) {
  look_at_shop();
  request_new(with_shop(design, shop_));
}

void Session::request_close() {
  request(CloseProject{});
}

void Session::request_quit() {
  request(Quit{});
}

void Session::request_restore(std::size_t offer) {
  if (offer < offers_.size()) request(Restore{offers_[offer]});
}

void Session::discard_offer(std::size_t offer) {
  if (offer >= offers_.size()) return;
  discard(offers_[offer]);
  offers_.erase(offers_.begin() + static_cast<std::ptrdiff_t>(offer));
}

/// Reads before anything is asked: nobody should save or discard work for a file that can't be opened.
std::optional<Session::OpenFile> Session::read(const fs::path& path) {
  // The stamp first: should the file change in between, it is noticed later.
  const fs::path full = full_path(path);
  if (is_no_file(full)) {
    tell_error(
        full.filename().string() + " can't be opened",
        full.string() + " is not a regular file but a folder, a pipe or a device; choose a project file.");
    return std::nullopt;
  }
  const std::optional<DiskStamp> stamp = stamp_of(full);
  try {
    return OpenFile{full, std::make_shared<const Design>(read_project(full)), stamp};
  } catch (const InputError& error) {
    tell({Notice::Kind::error, full.filename().string() + " can't be opened",
          words::lines_of(error.problems())});
  } catch (const std::exception& error) {
    tell_error(full.filename().string() + " can't be opened", error.what());
  }
  return std::nullopt;
}

void Session::request(Action action) {
  forget_pending();
  if (document_) document_->commit();
  if (!unsaved()) return perform(std::move(action));
  pending_ = std::move(action);
  ask(Question::Kind::unsaved, path_);
}

void Session::perform(Action action) {
  std::visit(Cases{[&](OpenFile& file) {
                     if (is_sample(file.path)) return show(*file.design, file.design, {}, {});
                     show(*file.design, file.design, file.path, file.stamp);
                     remember_recent(file.path);
                     if (left_behind(file.path)) ask(Question::Kind::left_behind, file.path);
                   },
                   [&](NewProject& made) { show(std::move(made.design), nullptr, {}, {}); },
                   [&](CloseProject&) { show_nothing(); },
                   [&](Quit&) {
                     autosave_.clear();
                     kept_ = nullptr;
                     quitting_ = true;
                   },
                   [&](Restore& wanted) { restore(wanted.offer); }},
             action);
}

void Session::perform_pending() {
  if (pending_) perform(*std::exchange(pending_, std::nullopt));
}

void Session::forget_pending() {
  question_.reset();
  pending_.reset();
  pending_export_.reset();
  pending_text_.reset();
  wants_path_ = false;
}

void Session::show(Design design, std::shared_ptr<const Design> saved, const fs::path& path,
                   std::optional<DiskStamp> stamp) {
  show_nothing();
  document_ = std::make_unique<Document>(std::move(design), std::move(saved));
  path_ = path;
  stamp_ = stamp;
}

void Session::show_nothing() {
  document_.reset();
  path_.clear();
  stamp_.reset();
  autosave_.clear();
  kept_ = nullptr;
  kept_at_.reset();
  looked_at_.reset();
  line_up_.forget();
  cutting_.forget();
}

std::optional<Offer> Session::left_behind(const fs::path& path) const {
  const auto found = std::ranges::find(offers_, path, &Offer::project);
  return found == offers_.end() ? std::nullopt : std::optional(*found);
}

void Session::restore(const Offer& offer) {
  std::shared_ptr<const Design> saved;
  std::optional<DiskStamp> stamp = stamp_of(offer.project);
  // A file that was changed after the work was kept must not be written over unasked.
  if (stamp && stamp->content != offer.based_on) stamp.reset();
  if (stamp) {
    try {
      saved = std::make_shared<const Design>(read_project(offer.project));
    } catch (const std::exception&) {
      stamp.reset();
    }
  }
  show(offer.design, std::move(saved), offer.project, stamp);
  // The old copy goes only once the new one is on disk.
  keep_work(Clock::now(), true);
  if (unsaved() && !kept_) return;
  discard(offer);
  std::erase_if(offers_, [&](const Offer& other) { return other.folder == offer.folder; });
}

// --- Saving -------------------------------------------------------------------------------------------

void Session::save() {
  if (!document_) return;
  question_.reset();
  document_->commit();
  if (path_.empty()) return ask_for_path();
  std::error_code error;
  const bool there = fs::exists(path_, error);
  if (there && (!stamp_ || change_since(path_, *stamp_, true) == DiskChange::changed))
    return ask(Question::Kind::overwrite_changed, path_);
  if (write(path_))
    perform_pending();
  else
    forget_pending();
}

void Session::save_as(const fs::path& path) {
  wants_path_ = false;
  if (!document_) return;
  document_->commit();
  const fs::path full = full_path(path);
  if (full == path_) return save();
  std::error_code error;
  if (fs::exists(full, error)) return ask(Question::Kind::replace_file, full);
  if (write(full))
    perform_pending();
  else
    forget_pending();
}

void Session::give_up_path() {
  forget_pending();
}

void Session::ask_for_path() {
  wants_path_ = true;
}

bool Session::write(const fs::path& path) {
  try {
    write_project(document_->design(), path);
  } catch (const std::exception& error) {
    tell_error("The project is not saved", error.what());
    return false;
  }
  path_ = path;
  stamp_ = stamp_of(path);
  document_->mark_saved();
  autosave_.clear();
  kept_ = nullptr;
  remember_recent(path);
  return true;
}

// --- Questions ------------------------------------------------------------------------------------------

void Session::ask(Question::Kind kind, const fs::path& about) {
  question_path_ = about;
  question_ = words::question(kind, title(), about);
}

void Session::answer(Choice choice) {
  if (!question_) return;
  const std::vector<Choice> choices = std::exchange(question_, std::nullopt)->choices;
  if (std::ranges::find(choices, choice) == choices.end()) choice = choices.back();
  switch (choice) {
    case Choice::save:
      return save();
    case Choice::save_elsewhere:
      return ask_for_path();
    case Choice::overwrite:
      return answer_overwrite();
    case Choice::discard:
      return perform_pending();
    case Choice::reload:
      return reload();
    case Choice::keep:
      return keep_mine();
    case Choice::take_up:
      if (const auto offer = left_behind(question_path_)) restore(*offer);
      return;
    case Choice::later:
      return;
    case Choice::cancel:
      return forget_pending();
  }
}

void Session::answer_overwrite() {
  if (pending_export_) return start_export();
  if (pending_text_) return write_text();
  if (write(question_path_))
    perform_pending();
  else
    forget_pending();
}

/// What is on disk is known now, and differs from what is open.
void Session::keep_mine() {
  stamp_ = stamp_of(path_);
  document_->mark_unsaved();
}

void Session::reload() {
  if (!document_ || path_.empty()) return;
  document_->commit();
  auto file = read(path_);
  if (!file) return document_->mark_unsaved();
  if (document_->apply("read the file again", *file->design) == Outcome::refused) {
    tell({Notice::Kind::error, "What the file holds now can't be laid out",
          words::lines_of(document_->problems())});
    return document_->mark_unsaved();
  }
  document_->mark_saved();
  stamp_ = file->stamp;
}

/// Somebody wrote the file anew, but with what is open here: nothing to ask about.
bool Session::disk_holds_the_same() {
  const std::optional<DiskStamp> stamp = stamp_of(path_);
  try {
    if (read_project(path_) != document_->design()) return false;
  } catch (const std::exception&) {
    return false;
  }
  stamp_ = stamp;
  document_->mark_saved();
  return true;
}

void Session::look_at_disk() {
  look_at_shop();
  bin_.look();
  if (!document_ || !stamp_ || question_ || wants_path_ || document_->drafting()) return;
  switch (change_since(path_, *stamp_)) {
    case DiskChange::none:
      return;
    case DiskChange::changed:
      if (disk_holds_the_same()) return;
      return ask(Question::Kind::changed_on_disk, path_);
    case DiskChange::gone:
      return ask(Question::Kind::gone_from_disk, path_);
  }
}

}  // namespace haftwright
