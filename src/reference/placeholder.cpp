#include "haftwright/reference/drills.hpp"
