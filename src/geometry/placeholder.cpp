#include "haftwright/geometry/height_field.hpp"
