#include "haftwright/design/design.hpp"
