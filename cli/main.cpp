#include "cli/command_line.hpp"

int main(int argc, char** argv) { return batten::cli::run(argc, argv); }
