#include "haftwright/handle/handle.hpp"
