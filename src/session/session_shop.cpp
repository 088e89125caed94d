// The shop beside the projects: its file read, noticed when it changes, and written.
#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/files/shop_file.hpp"
#include "haftwright/session/session.hpp"
#include "session_words.hpp"
#include "small_files.hpp"

namespace haftwright {

using namespace session;

void Session::take_in_shop() {
  shop_stamp_ = stamp_of(shop_file_);
  std::vector<std::string> wrong;
  try {
    if (!is_no_file(shop_file_))
      shop_ = read_shop(shop_file_);
    else
      wrong = {shop_file_.string() + " is not a regular file but a folder, a pipe or a device."};
  } catch (const InputError& error) {
    wrong = words::lines_of(error.problems());
  }
  if (wrong.empty()) return;
  wrong.push_back(shop_file_.string() + " stays as it is, and the values in force before stay so.");
  tell({Notice::Kind::error, "The shop file can't be used", std::move(wrong)});
}

void Session::look_at_shop() {
  if (shop_file_.empty()) return;
  // What can't be stamped (a folder, say) was told of in the beginning.
  const bool changed = shop_stamp_ ? change_since(shop_file_, *shop_stamp_) != DiskChange::none
                                   : stamp_of(shop_file_).has_value();
  if (changed) take_in_shop();
}

void Session::teach_shop(const ShopFields& fields) {
  if (!document_) return;
  document_->commit();
  const char* const title = "The shop's values have not changed";
  try {
    if (is_no_file(shop_file_)) throw OutputError(shop_file_.string() + " is no ordinary file");
    const Shop taught = shop_with_project_values(read_shop(shop_file_), document_->design(), fields);
    write_shop(taught, shop_file_);
    shop_ = taught;
    shop_stamp_ = stamp_of(shop_file_);
  } catch (const InputError& error) {
    tell({Notice::Kind::error, title, words::lines_of(error.problems())});
  } catch (const std::exception& error) {
    tell_error(title, error.what());
  }
}

}  // namespace haftwright
