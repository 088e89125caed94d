#include "haftwright/preview/meshes.hpp"
