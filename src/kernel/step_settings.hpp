// The kernel's exchange settings are process-wide: one is changed here only for the length of a scope.
#pragma once

#include <string>

#include <Interface_Static.hxx>

namespace haftwright::kernel {

class StepSetting {
 public:
  StepSetting(const char* name, const std::string& value)
      : name_(name), text_before_(Interface_Static::CVal(name)) {
    Interface_Static::SetCVal(name, value.c_str());
  }
  StepSetting(const char* name, int value)
      : name_(name), number_before_(Interface_Static::IVal(name)), is_number_(true) {
    Interface_Static::SetIVal(name, value);
  }
  ~StepSetting() {
    if (is_number_) {
      Interface_Static::SetIVal(name_, number_before_);
    } else {
      Interface_Static::SetCVal(name_, text_before_.c_str());
    }
  }
  StepSetting(const StepSetting&) = delete;
  StepSetting& operator=(const StepSetting&) = delete;

 private:
  const char* name_;
  std::string text_before_;
  int number_before_ = 0;
  bool is_number_ = false;
};

}  // namespace haftwright::kernel
