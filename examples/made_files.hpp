// Files that a program makes: all of them or none, in place of those of an earlier run, and never through a link.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <iostream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include <tranche/text/utf8.hpp>

#include <sys/stat.h>
#include <unistd.h>

namespace example {

/// A file could not be read or written.
struct file_error : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// A name and what is to stand in the file.
using made_file = std::pair<std::string, std::string>;

namespace detail {

/// Throws `file_error` if a link stands where a program is to write: whoever put it there would choose what is overwritten.
inline void refuse_link(const std::filesystem::path& path) {
    std::error_code trouble;
    if (std::filesystem::symlink_status(path, trouble).type() == std::filesystem::file_type::symlink)
        throw file_error(path.string() + " is a symbolic link: name what it points to, or remove it");
}

/// `path` without a stroke at its end, behind which a link would be followed before it is seen.
[[nodiscard]] inline std::filesystem::path without_stroke(const std::filesystem::path& path) {
    return path.has_filename() || !path.has_parent_path() || path == path.root_path() ? path : path.parent_path();
}

/// Writes a new file; throws `file_error` for whatever goes wrong, and if something of that name is there.
inline void write_new(const std::filesystem::path& path, const std::string& text, const std::string& name) {
    const auto trouble = [&](int error) { return file_error("cannot write " + name + ": " + std::strerror(error)); };
    std::FILE* const file = std::fopen(path.c_str(), "wbx");
    if (file == nullptr) throw trouble(errno);
    errno = 0;
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    const int error = errno;
    if (std::fclose(file) != 0) throw trouble(written ? errno : error); // what was buffered is only written here
    if (!written) throw trouble(error);
}

} // namespace detail

/// Writes files into a folder, which has to be there. Each is written beside its place, and only when all of them are whole do
/// they take their places; so a full disk leaves the folder as it was. Then what an earlier run left of `ours`, the names
/// that the program ever writes, and this one has not written is removed: plain files of exactly these names, nothing else.
///
/// Throws `file_error` naming the file.
inline void write_files(const std::filesystem::path& into, const std::vector<made_file>& files,
                        const std::vector<std::string_view>& ours = {}) {
    const std::filesystem::path folder = detail::without_stroke(into);
    detail::refuse_link(folder);
    std::error_code trouble;
    struct unfinished {
        std::vector<std::filesystem::path> paths{};
        ~unfinished() {
            std::error_code ignored;
            for (const std::filesystem::path& path : paths) std::filesystem::remove(path, ignored);
        }
    } parts;
    const auto part_of = [&](const std::string& name) { return folder / ('.' + name + ".part"); };
    for (const auto& [name, text] : files) {
        detail::refuse_link(folder / name);
        std::filesystem::remove(part_of(name), trouble); // of a run that was killed
        parts.paths.push_back(part_of(name));
        detail::write_new(part_of(name), text, (folder / name).string());
    }
    for (const auto& [name, text] : files) {
        std::filesystem::rename(part_of(name), folder / name, trouble);
        if (trouble) throw file_error("cannot write " + (folder / name).string() + ": " + trouble.message());
    }
    for (const std::string_view name : ours) {
        const std::filesystem::path old = folder / name;
        if (std::any_of(files.begin(), files.end(), [&](const made_file& f) { return f.first == name; })) continue;
        if (std::filesystem::symlink_status(old, trouble).type() != std::filesystem::file_type::regular) continue;
        std::filesystem::remove(old, trouble);
        if (trouble) throw file_error("cannot remove " + old.string() + " of an earlier run: " + trouble.message());
    }
}

/// Makes a folder and those above it. Throws `file_error` naming it, and for a link in its place.
inline void make_folder(const std::filesystem::path& path) {
    const std::filesystem::path folder = detail::without_stroke(path);
    detail::refuse_link(folder);
    std::error_code trouble;
    std::filesystem::create_directories(folder, trouble);
    if (trouble) throw file_error("cannot make the folder " + folder.string() + ": " + trouble.message());
}

/// Makes the folder that a program is told, and writes its files there. The exit status: 0, or 3 once the reason why they cannot
/// be written is said on standard error.
[[nodiscard]] inline int made_in(const std::filesystem::path& folder, const std::vector<made_file>& files) {
    try {
        make_folder(folder);
        write_files(folder, files);
        return 0;
    } catch (const file_error& error) {
        std::cerr << tranche::detail::printable(error.what()) << '\n';
        return 3;
    }
}

/// The folder for what is made of a sheet when none is named: one for each user, where nobody else may write, among the
/// temporary files, and in it one for each name of a sheet. Throws `file_error` if the first is a link or somebody else's.
[[nodiscard]] inline std::filesystem::path own_folder_for(const std::filesystem::path& sheet) {
    const std::filesystem::path mine =
        std::filesystem::temp_directory_path() / ("tranche-plans-" + std::to_string(::geteuid()));
    struct stat found {};
    if (::mkdir(mine.c_str(), S_IRWXU) != 0 && errno != EEXIST)
        throw file_error("cannot make the folder " + mine.string() + ": " + std::strerror(errno));
    if (::lstat(mine.c_str(), &found) != 0 || !S_ISDIR(found.st_mode) || found.st_uid != ::geteuid() ||
        (found.st_mode & (S_IWGRP | S_IWOTH)) != 0)
        throw file_error(mine.string() +
                         " is a link, or others may write there: remove it, or name a folder by --output");
    const std::string name = sheet.stem().string();
    return mine / (name.empty() ? "sample" : name);
}

} // namespace example
