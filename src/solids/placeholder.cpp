#include "haftwright/solids/solids.hpp"
