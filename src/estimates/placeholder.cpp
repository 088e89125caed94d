#include "haftwright/estimates/epoxy.hpp"
