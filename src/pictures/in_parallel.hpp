// Pieces of work that do not touch each other, over several threads.
#pragma once

#include <functional>

namespace haftwright::pictures {

/// Calls `work` for each of 0 to count - 1, once, in no certain order, on `threads` threads (0: as many as
/// the machine has; where fewer can be started, those). `work` must not throw.
void in_parallel(int count, unsigned threads, const std::function<void(int)>& work);

}  // namespace haftwright::pictures
