#include "haftwright/files/project_file.hpp"
