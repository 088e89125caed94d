#include "session_words.hpp"

namespace haftwright {

const char* label_of(Choice choice) {
  switch (choice) {
    case Choice::save:
      return "Save";
    case Choice::save_elsewhere:
      return "Save as ...";
    case Choice::overwrite:
      return "Replace it";
    case Choice::discard:
      return "Don't save";
    case Choice::reload:
      return "Read it again";
    case Choice::keep:
      return "Keep mine";
    case Choice::take_up:
      return "Take it up again";
    case Choice::later:
      return "Not now";
    case Choice::cancel:
      break;
  }
  return "Cancel";
}

namespace words {

std::vector<std::string> lines_of(const std::vector<Problem>& problems) {
  std::vector<std::string> lines;
  for (const Problem& problem : problems)
    lines.push_back(problem.field.empty() ? problem.what : problem.field + ": " + problem.what);
  return lines;
}

Question question(Question::Kind kind, const std::string& title, const std::filesystem::path& about) {
  using enum Choice;
  const std::string file = about.filename().string();
  switch (kind) {
    case Question::Kind::unsaved:
      return {kind, "Save the changes to \"" + title + "\" first?", {save, discard, cancel}};
    case Question::Kind::changed_on_disk:
      return {kind,
              file +
                  " was changed by somebody else. Read it again, or keep yours? Reading it again can be "
                  "undone; keeping yours means that saving replaces the other version.",
              {reload, keep}};
    case Question::Kind::gone_from_disk:
      return {kind,
              file +
                  " is no longer where it was. Keep what is open, so that saving makes the file anew, or "
                  "save it under another name?",
              {save_elsewhere, keep}};
    case Question::Kind::overwrite_changed:
      return {kind,
              file + " was changed by somebody else since you opened it. Replace their version with yours?",
              {overwrite, save_elsewhere, cancel}};
    case Question::Kind::left_behind:
      return {kind,
              "Unsaved work on " + file +
                  " was left behind by an earlier run. Take it up again? The file itself stays as it is "
                  "until you save.",
              {take_up, later}};
    case Question::Kind::replace_file:
      break;
  }
  return {kind, file + " is there already. Replace it?", {overwrite, cancel}};
}

}  // namespace words
}  // namespace haftwright
