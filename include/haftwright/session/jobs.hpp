// Long work on exact solids, in one thread of its own, so that the window never waits.
//
// One thread, since the kernel can't be called from two. Every job works on a snapshot of the Design. There
// is one place for each kind of job and the newest request wins it: a request that is waiting is replaced,
// one that is running is told to stop. Files are made before facts: an export sends a running measurement
// back to the queue and no edit ever stops an export. Results come back as values; one that a newer request
// has overtaken is dropped by its number, but a file that was written is told of.
#pragma once

#include <array>
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

enum class JobKind { guide_step, handle_step, handle_facts };
inline constexpr std::size_t kJobKinds = 3;
/// "drill guide", "finished handle", "exact bodies".
const char* name_of(JobKind kind);

struct JobRequest {
  JobKind kind = JobKind::handle_facts;
  std::shared_ptr<const Design> design;
  std::filesystem::path path;  ///< file to write; unused for facts
  std::string product_name;    ///< written into the file
};

struct FileWritten {
  std::filesystem::path path;
  std::size_t bytes = 0;
  std::vector<BodyFacts> bodies;
  bool checks_fail = false;           ///< of the handle or the guide; it was written all the same
  std::vector<std::string> warnings;  ///< where the bodies are not as laid out, in words
};
struct FactsFound {
  std::vector<BodyFacts> bodies;
};
struct JobFailed {
  std::string why;  ///< plain words
};
struct JobStopped {};  ///< by cancel(); no file was touched
using JobOutcome = std::variant<FileWritten, FactsFound, JobFailed, JobStopped>;

struct JobResult {
  std::uint64_t number = 0;
  JobRequest request;
  JobOutcome outcome;
};

struct JobProgress {
  std::uint64_t number = 0;
  JobKind kind = JobKind::handle_facts;
  bool running = false;  ///< else it waits
  double share = 0;      ///< 0 to 1
  std::string step;      ///< "left front piece"
};

/// Does one job, from Design to file or facts. Throws Cancelled, InputError, SolidError, OutputError.
JobOutcome do_job(const JobRequest& request, const JobContext& context);

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
