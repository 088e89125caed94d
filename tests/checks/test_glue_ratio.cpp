#include "plain_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

Finding weighed(double resin, double hardener, double step_g) {
  Design design = plain_design();
  design.adhesive.mix_by = MixBy::weight;
  design.adhesive.resin_parts = resin;
  design.adhesive.hardener_parts = hardener;
  design.adhesive.scale_step_g = step_g;
  return the(design, "glue.ratio");
}

bool says(const Finding& finding, std::string_view words) {
  UNSCOPED_INFO(finding.why);
  return finding.why.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("a ratio that the scale can't weigh is told, with the ways out") {
  // 5 g in whole grams at 100 : 30 are 4 + 1 g: the hardener is 1/6 short.
  const Finding grams = weighed(100, 30, 1);
  CHECK(grams.status == Status::fail);
  CHECK(grams.value == exactly(1.0 / 6));
  CHECK(says(grams, "16.7 % short of"));
  CHECK(says(grams, "larger batch (10 g resin and 3 g hardener)"));
  CHECK(says(grams, "steps of 0.2 g"));
  CHECK(says(grams, "by volume"));
  // A hardener of a hundredth is never left out: 4 + 1 g would be 25 times too much.
  CHECK(weighed(100, 1, 1).status == Status::fail);
  CHECK(weighed(100, 1, 1).value > 1);
  CHECK(weighed(2, 1, 0.1).status == Status::pass);
}

TEST_CASE("over 2 % is near, over 5 % fails, and both limits are the shop's own") {
  // 5 and 5.5 g in half grams at 100 : 53 are 3.5 + 2 g (7.8 % over), the best of four.
  Design design = plain_design();
  design.adhesive = {.resin_parts = 100, .hardener_parts = 53, .mix_by = MixBy::weight, .scale_step_g = 0.5};
  const double error = 2 / 3.5 / 0.53 - 1;
  CHECK(the(design, "glue.ratio").value == exactly(error));
  CHECK(the(design, "glue.ratio").status == Status::fail);
  design.rules.mix_error_share = error;  // not over it
  CHECK(the(design, "glue.ratio").status == Status::near);
  design.rules.mix_near_share = error;
  CHECK(the(design, "glue.ratio").status == Status::pass);
  design.rules.mix_near_share = error - 1e-4;
  CHECK(the(design, "glue.ratio").status == Status::near);
  design.rules.mix_near_share = 0.02;
  design.rules.mix_error_share = error - 1e-4;
  CHECK(the(design, "glue.ratio").status == Status::fail);
}
