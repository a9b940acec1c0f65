// What the readers of meshes share: the bytes of a file, and a cursor over its text that knows its line.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <ios>
#include <istream>
#include <streambuf>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>

#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/detail/number_from_chars.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche::detail {

/// A vertex takes three bytes at least, so files up to this size cannot have more of them than 32-bit indices can count.
inline constexpr std::size_t largest_mesh_file = 4'000'000'000;

/// How many bytes a stream that can be wound says are left in it; 0 where it does not know.
[[nodiscard]] inline std::size_t bytes_left(std::istream& in) {
    std::streambuf& source = *in.rdbuf();
    const std::streamoff here = source.pubseekoff(0, std::ios::cur, std::ios::in);
    if (here < 0) return 0;
    const std::streamoff end = source.pubseekoff(0, std::ios::end, std::ios::in);
    if (source.pubseekpos(here, std::ios::in) != std::streampos(here)) in.setstate(std::ios::badbit);
    return end > here ? static_cast<std::size_t>(end - here) : 0;
}

inline void require_open(const std::istream& in, const char* format) {
    if (!in.good()) throw invalid_input(format, "a stream that cannot be read", "an open file");
}
/// Of a stream that has given `size` bytes.
inline void require_unbroken(const std::istream& in, std::size_t size, const char* format) {
    if (size > largest_mesh_file) throw invalid_input(format, "more than 4 GB", "a smaller mesh");
    if (in.bad()) throw invalid_input(format, "a stream that broke off", "a file that can be read to its end");
}

/// `bytes`, which may be those that were read from it, and all that is left in a stream.
[[nodiscard]] inline std::string bytes_of(std::istream& in, const char* format, std::string bytes = {}) {
    require_open(in, format);
    // A string that grows moves each byte a few times, and takes half as long as reading the numbers in it. Only a hint:
    // what is no file may say anything.
    if (const std::size_t left = bytes_left(in); left <= largest_mesh_file) bytes.reserve(bytes.size() + left);
    std::array<char, 65536> block;
    while (in.read(block.data(), block.size()), in.gcount() > 0) {
        bytes.append(block.data(), static_cast<std::size_t>(in.gcount()));
        require_unbroken(in, bytes.size(), format);
    }
    require_unbroken(in, bytes.size(), format);
    return bytes;
}

/// The little-endian number at the start of `bytes`, whatever the host.
template <class Number>
[[nodiscard]] Number little_endian(const char* bytes) {
    std::array<char, sizeof(Number)> raw;
    std::memcpy(raw.data(), bytes, raw.size());
    if constexpr (std::endian::native == std::endian::big)
        for (std::size_t i = 0; i < raw.size() / 2; ++i) std::swap(raw[i], raw[raw.size() - 1 - i]);
    return std::bit_cast<Number>(raw);
}

/// How many metres one unit of the file is.
[[nodiscard]] inline double metres_in(length unit) {
    require_positive(unit, "unit of the mesh");
    return unit.value();
}

/// A polygon comes by a vertex once, or twice where its holes are joined to its rim: holes have three vertices at least, and
/// each adds two corners. One with more corners than this would blow up a short file.
[[nodiscard]] constexpr std::uint64_t most_corners(std::uint64_t vertices) {
    return std::max<std::uint64_t>(3, 2 * vertices);
}

/// Adds a polygon as a fan of triangles around its first corner.
class fan {
public:
    explicit fan(triangle_mesh& mesh) : mesh_(mesh) {}
    void add(std::uint32_t corner) {
        if (corners_ == 0) first_ = corner;
        if (corners_ >= 2) mesh_.triangles.push_back({first_, last_, corner});
        last_ = corner;
        ++corners_;
    }
    [[nodiscard]] std::size_t corners() const { return corners_; }

private:
    triangle_mesh& mesh_;
    std::size_t corners_ = 0;
    std::uint32_t first_ = 0, last_ = 0;
};

/// Walks over the lines of a text file. Independent of the locale.
class line_cursor {
public:
    line_cursor(std::string_view text, const char* format) : text_(text), format_(format) {}

    /// Walks on over the text that follows on this one, which may be gone.
    void go_on_in(std::string_view text) {
        text_ = text;
        at_ = 0;
    }

    [[nodiscard]] bool at_end() const { return at_ == text_.size(); }
    [[nodiscard]] bool at_end_of_line() {
        skip_blanks();
        return at_end() || text_[at_] == '\n';
    }
    [[nodiscard]] std::size_t line() const { return line_; }
    [[nodiscard]] std::size_t offset() const { return at_; }
    [[nodiscard]] std::size_t left() const { return text_.size() - at_; }

    [[noreturn]] void fail(const std::string& expected) const {
        std::string_view rest = text_.substr(at_, text_.substr(at_).find_first_of("\r\n"));
        rest.remove_prefix(std::min(rest.find_first_not_of(" \t"), rest.size()));
        std::string shown_rest;
        for (const char c : rest.substr(0, 40)) shown_rest += c >= ' ' && c <= '~' ? c : '?';
        if (rest.size() > 40) shown_rest += "...";
        const std::string got = at_end()       ? "the end of the file"
                                : rest.empty() ? "the end of the line"
                                               : '"' + shown_rest + '"';
        throw invalid_input(std::string(format_) + " line " + std::to_string(line_), got, expected);
    }

    /// Everything up to the next blank or end of line; empty at the end of the line.
    [[nodiscard]] std::string_view word() {
        const std::string_view found = peek_word();
        at_ += found.size();
        return found;
    }
    [[nodiscard]] std::string_view peek_word() {
        skip_blanks();
        std::size_t end = at_;
        while (end < text_.size() && !is_blank(text_[end]) && text_[end] != '\n') ++end;
        return text_.substr(at_, end - at_);
    }
    void expect(std::string_view keyword) {
        if (!accept(keyword)) fail('"' + std::string(keyword) + '"');
    }
    /// Passes by the next word if it is this one.
    [[nodiscard]] bool accept(std::string_view keyword) {
        skip_blanks();
        const std::string_view rest = text_.substr(at_);
        if (!rest.starts_with(keyword)) return false;
        if (rest.size() > keyword.size() && !is_blank(rest[keyword.size()]) && rest[keyword.size()] != '\n')
            return false;
        at_ += keyword.size();
        return true;
    }
    [[nodiscard]] bool accept(char c) {
        if (at_end() || text_[at_] != c) return false;
        ++at_;
        return true;
    }

    struct lines {
        std::string text{};
        std::size_t count = 0;
    };
    /// What was read since `start`, a copy made in the same text.
    [[nodiscard]] lines lines_since(const line_cursor& start) const {
        return {std::string(text_.substr(start.at_, at_ - start.at_)), line_ - start.line_};
    }
    /// Passes by the same text if it stands here again; not if it has no end of a line.
    [[nodiscard]] bool accept(const lines& again) {
        if (again.count == 0 || !text_.substr(at_).starts_with(again.text)) return false;
        at_ += again.text.size();
        line_ += again.count;
        return true;
    }

    /// A decimal number up to the next blank; "nan" and "inf" count as numbers here.
    [[nodiscard]] double any_number(const char* what) {
        skip_blanks();
        const char* from = text_.data() + at_;
        const char* const end = text_.data() + text_.size();
        if (from != end && *from == '+' && from + 1 != end && *(from + 1) != '-') ++from;
        double value = 0.0;
        const auto [stop, error] = number_from_chars(from, end, value);
        if (error != std::errc() || !(stop == end || is_blank(*stop) || *stop == '\n')) fail(what);
        at_ = static_cast<std::size_t>(stop - text_.data());
        return value;
    }
    [[nodiscard]] double number(const char* what) {
        const std::size_t start = at_;
        const double value = any_number(what);
        if (!std::isfinite(value)) {
            at_ = start;
            fail(what);
        }
        return value;
    }
    /// A whole number that may be followed by anything.
    [[nodiscard]] std::int64_t whole(const char* what) {
        skip_blanks();
        std::int64_t value = 0;
        const auto [stop, error] = std::from_chars(text_.data() + at_, text_.data() + text_.size(), value);
        if (error != std::errc()) fail(what);
        at_ = static_cast<std::size_t>(stop - text_.data());
        return value;
    }
    /// As `whole`, but without blanks before it, and checked only to be there.
    void whole_here(const char* what) {
        if (at_end() || is_blank(text_[at_])) fail(what);
        (void)whole(what);
    }
    [[nodiscard]] bool at_blank() const { return at_end() || is_blank(text_[at_]) || text_[at_] == '\n'; }
    void end_line(const char* expected = "the end of the line") {
        if (!at_end_of_line()) fail(expected);
        if (!at_end()) next_line();
    }
    void skip_line() {
        while (!at_end_of_line()) (void)word();
        if (!at_end()) next_line();
    }
    /// What is left of the line, its end left out; of the last line, which has none, nothing.
    [[nodiscard]] std::string_view rest_of_line() const {
        const std::size_t end = text_.find('\n', at_);
        return end == std::string_view::npos ? std::string_view() : text_.substr(at_, end - at_);
    }
    /// To the end of the line, whatever it ends in.
    void skip_rest() { at_ = std::min(text_.find('\n', at_), text_.size()); }
    void skip_comment() {
        skip_rest();
        if (!at_end()) next_line();
    }

private:
    [[nodiscard]] static bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }
    void skip_blanks() {
        for (; !at_end(); ++at_) {
            if (is_blank(text_[at_])) continue;
            if (text_[at_] != '\\')
                return; // at the end of a line it carries the line on, in OBJ; elsewhere none ends in one
            const std::string_view rest = text_.substr(at_ + 1, 2);
            if (!rest.starts_with('\n') && rest != "\r\n") return;
            at_ += rest[0] == '\n' ? 1 : 2;
            ++line_;
        }
    }
    void next_line() {
        ++at_;
        ++line_;
    }

    std::string_view text_;
    const char* format_;
    std::size_t at_ = 0, line_ = 1;
};

} // namespace tranche::detail
