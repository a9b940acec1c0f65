// Results of studies as bytes and in files: to go on later, and to merge what several processes and machines have done.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <ios>
#include <span>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include <tranche/study/run/detail/byte_text.hpp>
#include <tranche/study/run/detail/study_parts.hpp>
#include <tranche/study/run/study_result.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

namespace detail {

/// What the bytes begin with, and which version of them this library writes and reads.
inline constexpr std::string_view study_mark = "tranche study\n";
inline constexpr std::uint64_t study_version = 1;

} // namespace detail

/// A result as bytes. Equal results have equal bytes, on every machine. They are a mark, the version of the format, the
/// result, and a hash of all that; whole numbers have eight bytes, the lowest first. O(bins). Throws nothing but for
/// lack of memory.
template <class = detail::when_called>
[[nodiscard]] std::vector<std::byte> study_bytes(const study_result& result) {
    detail::byte_writer out;
    out.text(detail::study_mark);
    out.number(detail::study_version);
    detail::study_parts::write(out, result);
    out.number(detail::hash_of(out.bytes()));
    return out.bytes();
}

/// 64 bits of hash of a result's bytes: equal for equal results, to compare what compilers, threads and machines came
/// to. Throws nothing but for lack of memory. O(bins).
template <class = detail::when_called>
[[nodiscard]] std::uint64_t study_digest(const study_result& result) {
    return detail::hash_of(study_bytes(result));
}

/// The result that `study_bytes` wrote. Throws `invalid_input` for anything else: bytes that are missing, too many or changed (any
/// single one is found for certain), another version, and what no study comes to.
template <class = detail::when_called>
[[nodiscard]] study_result read_study_bytes(std::span<const std::byte> bytes) {
    const auto head = 8 + detail::study_mark.size();
    if (bytes.size() < head + 16) detail::refuse_bytes(std::to_string(bytes.size()) + " bytes");
    detail::byte_reader mark(bytes.first(head + 8));
    if (mark.number() != detail::study_mark.size() ||
        detail::byte_reader(bytes.first(head)).text() != detail::study_mark)
        detail::refuse_bytes("no mark of a study at the beginning");
    detail::byte_reader format(bytes.subspan(head, 8)), hash(bytes.last(8));
    if (const std::uint64_t written = format.number(); written != detail::study_version)
        throw invalid_input("study", "version " + std::to_string(written) + " of the format, or changed bytes",
                            "version " + std::to_string(detail::study_version));
    if (hash.number() != detail::hash_of(bytes.first(bytes.size() - 8)))
        detail::refuse_bytes("missing or changed bytes");
    detail::byte_reader in(bytes.subspan(head + 8, bytes.size() - head - 16));
    return detail::study_parts::read(in);
}

/// Writes a result to a file, first beside it and then by renaming, so that a process that is killed leaves the old file or the new
/// one. Throws `invalid_input` naming the file where that cannot be.
template <class = detail::when_called>
void write_study_file(const std::filesystem::path& path, const study_result& result) {
    const std::vector<std::byte> bytes = study_bytes(result);
    std::filesystem::path part = path;
    part += ".part";
    {
        std::ofstream out(part, std::ios::binary | std::ios::trunc);
        out.write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size())); // NOLINT
        out.close();
        if (!out) throw invalid_input(part.string(), "a file that cannot be written", "one that can");
    }
    std::error_code error;
    std::filesystem::rename(part, path, error);
    if (error)
        throw invalid_input(path.string(), "a file that cannot be replaced (" + error.message() + ")", "one that can");
}

/// Reads it again. Throws `invalid_input` naming the file where it cannot be read, and as `read_study_bytes` does.
template <class = detail::when_called>
[[nodiscard]] study_result read_study_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw invalid_input(path.string(), "a file that cannot be read", "the file of a study");
    std::vector<std::byte> bytes;
    for (char c = 0; in.get(c);) bytes.push_back(static_cast<std::byte>(c));
    try {
        return read_study_bytes(bytes);
    } catch (const invalid_input& error) {
        throw within(path.string() + ": ", error);
    }
}

} // namespace tranche
