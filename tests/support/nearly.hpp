// Equal but for rounding: for figures that follow from a closed form.
#pragma once

#include <catch2/catch.hpp>

namespace haftwright::test {

/// Within 1e-9, of the figure or absolute, whichever is more: a billionth of a millimetre or degree.
inline Approx nearly(double figure) {
  return Approx(figure).epsilon(1e-9).margin(1e-9);
}

}  // namespace haftwright::test
