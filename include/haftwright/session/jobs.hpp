// Files of exact solids, made beside the window.
//
// All in one thread, since the kernel can't be called from two. Every job works on a snapshot of the Design.
// Results come back as values; one that a newer request of its kind has overtaken is dropped, but a file that
// was written is always reported.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "haftwright/design/design.hpp"
#include "haftwright/solids/solids.hpp"

namespace haftwright {

enum class JobKind { guide_step, handle_step };
inline constexpr std::size_t kJobKinds = 2;
/// "drill guide", "finished handle".
const char* name_of(JobKind kind);

struct JobRequest {
  JobKind kind = JobKind::guide_step;
  std::shared_ptr<const Design> design;
  std::filesystem::path path;  ///< file to write
  std::string product_name;    ///< written into the file
};

struct FileWritten {
  std::filesystem::path path;
  std::size_t bytes = 0;
  std::vector<BodyFacts> bodies;
  bool checks_fail = false;           ///< of the handle or the guide; it was written all the same
  std::vector<std::string> warnings;  ///< where the bodies are not as laid out, in words
};
struct JobFailed {
  std::string why;  ///< plain words
};
struct JobStopped {};  ///< by cancel(); no file was touched
using JobOutcome = std::variant<FileWritten, JobFailed, JobStopped>;

struct JobResult {
  std::uint64_t number = 0;
  JobRequest request;
  JobOutcome outcome;
};

struct JobProgress {
  std::uint64_t number = 0;
  JobKind kind = JobKind::guide_step;
  bool running = false;  ///< else it waits
  double share = 0;      ///< 0 to 1
  std::string step;      ///< "left front piece"
};

/// Does one job, from Design to file. Throws Cancelled, InputError, SolidError, OutputError.
FileWritten do_job(const JobRequest& request, const JobContext& context);

class Jobs {
 public:
  using Work = std::function<JobOutcome(const JobRequest&, const JobContext&)>;

  /// `wake` is called from the job thread whenever there is progress or a result: post an empty event there.
  /// `work`: what does a job; another one for tests.
  explicit Jobs(std::function<void()> wake, Work work = do_job);
  /// Tells the running job to stop and waits for it.
  ~Jobs();
  Jobs(const Jobs&) = delete;
  Jobs& operator=(const Jobs&) = delete;

  /// Returns at once with the job's number, which no other job ever has.
  std::uint64_t start(JobRequest request);
  /// The job of that kind is dropped if it waits, told to stop if it runs; its result will be JobStopped.
  void cancel(JobKind kind);
  /// Running first, then waiting ones in order of kind.
  std::vector<JobProgress> progress() const;
  bool busy() const { return !progress().empty(); }
  /// The oldest result that nobody has taken yet.
  std::optional<JobResult> take_result();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace haftwright
