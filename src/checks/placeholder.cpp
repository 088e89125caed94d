#include "haftwright/checks/checks.hpp"
