#include "haftwright/guide/drill_guide.hpp"
