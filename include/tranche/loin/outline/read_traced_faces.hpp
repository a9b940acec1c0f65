// Traced faces out of a table: one corner a line, as a tracing program or a spreadsheet writes them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <istream>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/units/detail/number_from_chars.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// One line of the table, taken apart.
struct traced_corner {
    double at = 0.0, across = 0.0, up = 0.0;
    std::string_view name{}; // of the outline

    /// Throws naming the line and what was expected of it.
    traced_corner(std::string_view line, std::size_t number) {
        const auto fail = [&](std::string_view cell, const char* expected) {
            throw invalid_input("line " + std::to_string(number), '"' + std::string(cell.substr(0, 40)) + '"',
                                expected);
        };
        std::array<std::string_view, 4> cells;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const std::size_t comma = line.find(',');
            if ((comma == std::string_view::npos) != (i == 3)) fail(line, "four cells: at,outline,across,up");
            cells[i] = trimmed(line.substr(0, comma));
            line.remove_prefix(i == 3 ? line.size() : comma + 1);
        }
        const auto number_in = [&](std::string_view cell) {
            double value = 0.0;
            const auto [end, error] = number_from_chars(cell.data(), cell.data() + cell.size(), value);
            if (error != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(value))
                fail(cell, "a finite number with a decimal point");
            return value;
        };
        at = number_in(cells[0]);
        name = cells[1];
        across = number_in(cells[2]);
        up = number_in(cells[3]);
    }

    [[nodiscard]] static std::string_view trimmed(std::string_view text) {
        const std::size_t first = text.find_first_not_of(" \t\r");
        return first == std::string_view::npos ? std::string_view{}
                                               : text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
    }
};

} // namespace detail

/// Reads traced faces from comma-separated lines `at,outline,across,up`, which the first line must say. `at` is the
/// distance of the face from the rib face, `outline` one of whole, eye, gluteus medius and tail, and a corner is `across`
/// from the chine and `up` from the board; numbers are plain, in units of `unit`. The corners of an outline follow one
/// another, and so do the outlines of a face. `hole in eye` and its like give a hole: its corners follow one another too, and
/// a second hole starts after another outline. Empty lines and lines that start with # are remarks, and a byte order mark in
/// front is left out.
///
/// Throws `invalid_input` naming the line for what cannot be read, and for an outline that stands twice on a face or is
/// missing (whole and eye are needed), and for a stream that breaks off. Whether the outlines are good is
/// `traced_loin`'s question. O(length of the text). `unit` is a length above zero, or `invalid_input` is thrown.
template <class = detail::when_called>
[[nodiscard]] std::vector<traced_face> read_traced_faces(std::istream& in, length unit) {
    detail::require_positive(unit, "unit of the outlines");
    std::vector<traced_face> faces;
    std::string line, name;
    std::vector<outline_point>* corners = nullptr; // of the outline or hole that the last line belonged to
    double at = 0.0;
    std::size_t number = 0;
    bool headed = false;

    const auto open = [&](const detail::traced_corner& corner) {
        if (faces.empty() || corner.at != at) faces.push_back({.at = corner.at * unit});
        at = corner.at;
        name = corner.name;
        traced_face& face = faces.back();
        std::string_view wanted = corner.name;
        const bool hole = wanted.starts_with("hole in ");
        if (hole) wanted.remove_prefix(8);
        outline* curve = nullptr;
        if (wanted == "whole") curve = &face.whole;
        if (wanted == "eye") curve = &face.eye;
        if (wanted == "gluteus medius")
            curve = &(face.gluteus_medius ? *face.gluteus_medius : face.gluteus_medius.emplace());
        if (wanted == "tail") curve = &(face.tail ? *face.tail : face.tail.emplace());
        const auto fail = [&](const char* expected) {
            throw invalid_input("line " + std::to_string(number), '"' + name.substr(0, 40) + '"', expected);
        };
        if (curve == nullptr) fail("whole, eye, gluteus medius, tail, or a hole in one of them");
        if (hole && curve->points.empty()) fail("the outline in front of its holes");
        if (!hole && !curve->points.empty()) fail("each outline of a face once, its corners together");
        corners = hole ? &curve->holes.emplace_back() : &curve->points;
    };
    while (std::getline(in, line)) {
        ++number;
        std::string_view text = line;
        if (number == 1 && text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
        text = detail::traced_corner::trimmed(text);
        if (text.empty() || text.front() == '#') continue;
        if (!headed) {
            if (text != "at,outline,across,up")
                throw invalid_input("line " + std::to_string(number), '"' + std::string(text.substr(0, 40)) + '"',
                                    "the heading at,outline,across,up");
            headed = true;
            continue;
        }
        const detail::traced_corner corner(text, number);
        if (corners == nullptr || corner.at != at || corner.name != name) open(corner);
        corners->push_back({corner.across * unit, corner.up * unit});
    }
    if (in.bad()) throw invalid_input("traced faces", "a stream that broke off", "a file that can be read to its end");
    if (faces.empty()) throw invalid_input("traced faces", "none", "a heading and at least one face");
    for (const traced_face& face : faces) {
        if (face.whole.points.empty())
            throw invalid_input("face at " + detail::shown(face.at), "no outline whole", "whole and eye at least");
        if (face.eye.points.empty())
            throw invalid_input("face at " + detail::shown(face.at), "no outline eye", "whole and eye at least");
    }
    return faces;
}

} // namespace tranche
