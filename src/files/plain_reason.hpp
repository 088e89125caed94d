// Why the system refused, in plain words.
#pragma once

#include <string>

namespace haftwright::files {

/// For an errno value met while reading or writing: what is the matter and what would help.
std::string plain_read_reason(int error);
std::string plain_write_reason(int error);

}  // namespace haftwright::files
