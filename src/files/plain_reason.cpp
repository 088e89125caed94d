#include "plain_reason.hpp"

#include <cerrno>
#include <system_error>

namespace haftwright::files {
namespace {

std::string system_words(int error) {
  return std::generic_category().message(error);
}

}  // namespace

std::string plain_read_reason(int error) {
  switch (error) {
    case ENOENT:
      return "there is no such file";
    case ENOTDIR:
      return "a part of the path is not a folder";
    case EISDIR:
      return "it is a folder, not a file";
    case EACCES:
    case EPERM:
      return "you may not read it; change its permissions or ask its owner";
    case ELOOP:
      return "its links go in a circle";
    case ENAMETOOLONG:
      return "the name is too long";
    case EIO:
      return "the disk reports an error; copy the file elsewhere and try again";
    default:
      return system_words(error);
  }
}

std::string plain_write_reason(int error) {
  switch (error) {
    case ENOSPC:
      return "the disk is full; free some space or choose another disk";
    case EDQUOT:
      return "your share of the disk is used up; free some space or choose another disk";
    case EFBIG:
      return "the file would be larger than this disk or account allows; choose another place";
    case EACCES:
    case EPERM:
      return "you may not write there; choose another folder or change the permissions";
    case EROFS:
      return "the disk is read-only; choose another folder";
    case ENOENT:
      return "the folder does not exist; make it first or choose another";
    case ENOTDIR:
      return "a part of the path is not a folder";
    case EISDIR:
      return "it is a folder; give the name of a file";
    case ELOOP:
      return "its links go in a circle; give the name of the file itself";
    case ENAMETOOLONG:
      return "the name is too long";
    case EEXIST:
      return "it exists already; give another name, or say that it may be replaced";
    case EIO:
      return "the disk reports an error; choose another disk";
    default:
      return system_words(error);
  }
}

}  // namespace haftwright::files
