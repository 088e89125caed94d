// write_random_projects FOLDER COUNT: valid random designs as project files, for tests/compare/run.sh.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>

#include "haftwright/files/project_file.hpp"
#include "support/random_design.hpp"

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: write_random_projects FOLDER COUNT\n";
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::filesystem::create_directories(folder);
  for (unsigned long seed = 1; seed <= std::strtoul(argv[2], nullptr, 10); ++seed)
    std::ofstream(folder / ("random-" + std::to_string(seed) + ".json"))
        << haftwright::project_text(haftwright::test::random_design(seed));
}
