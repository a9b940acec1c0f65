// Runs an example program as a person would, and keeps what it printed.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include <sys/wait.h>
#include <unistd.h>

namespace tranche_test {

inline std::string contents(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

/// A folder of its own, gone at the end.
struct scratch_folder {
    std::filesystem::path path = std::filesystem::temp_directory_path() /
                                 ("tranche-test-" + std::to_string(::getpid()) + '-' + std::to_string(count++));
    inline static int count = 0;
    scratch_folder() { std::filesystem::create_directories(path); }
    ~scratch_folder() { std::filesystem::remove_all(path); }
    scratch_folder(const scratch_folder&) = delete;
    scratch_folder& operator=(const scratch_folder&) = delete;
};

struct program_run {
    int status;
    std::string out, err;
};

/// `arguments` as a shell would get them; `input` is what the program finds on its standard input; `before` stands in front of
/// the program in the shell's line.
inline program_run run_example(const std::string& name, const std::string& arguments = {},
                               const std::string& input = {}, const std::string& before = {}) {
    const scratch_folder folder;
    const auto in = folder.path / "in", out = folder.path / "out", err = folder.path / "err";
    std::ofstream(in, std::ios::binary) << input;
    const std::string command = before + "'" TRANCHE_EXAMPLES_BINARY_DIR "/" + name + "' " + arguments + " >'" +
                                out.string() + "' 2>'" + err.string() + "' <'" + in.string() + "'";
    const int status = std::system(command.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, contents(out), contents(err)};
}

} // namespace tranche_test
