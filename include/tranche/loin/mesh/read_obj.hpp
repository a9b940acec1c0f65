// A triangle mesh out of an OBJ file.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <istream>
#include <string>
#include <string_view>

#include <tranche/loin/mesh/detail/mesh_source.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Reads the mesh of an OBJ file whose coordinates are multiples of `unit` (the file does not say: `millimetre` for most
/// scanners). Follows the description of object files, version 3.0, that is reprinted all over (from memory).
///
/// Read: `v x y z` (and up to four more numbers, a weight or a colour, which are ignored) and `f` with three corners or
/// more, each `v`, `v/vt`, `v//vn` or `v/vt/vn`, counted from 1 or, if negative, back from the latest vertex. A corner's
/// vertex stands above the face. Polygons become fans around their first corner, which is exact for flat ones; their edges
/// stay as they are, so that a closed surface stays closed; they have no more corners than twice the vertices. Skipped: comments, vt, vn, g, o, s, l, p, usemtl, mtllib.
/// Anything else (free-form curves and surfaces) throws, because the body would not be whole without it.
///
/// Throws `invalid_input` naming the line and what was expected there. The mesh may still be open: see `validate`.
/// O(size of the file). `unit` is a length above zero, or `invalid_input` is thrown; vertices are in metres.
[[nodiscard]] inline triangle_mesh read_obj(std::istream& in, length unit) {
    const double scale = detail::metres_in(unit);
    const std::string text = detail::bytes_of(in, "OBJ");
    detail::line_cursor cursor(text, "OBJ");
    triangle_mesh mesh;

    const auto read_vertex = [&] {
        std::array<double, 3> p{};
        for (double& coordinate : p) coordinate = scale * cursor.number("three finite coordinates");
        for (int more = 0; more < 4 && !cursor.at_end_of_line(); ++more)
            (void)cursor.number("a weight or a colour, or the end of the line");
        cursor.end_line();
        mesh.vertices.push_back({p[0], p[1], p[2]});
    };
    const auto read_corner = [&] {
        const auto known = static_cast<std::int64_t>(mesh.vertices.size());
        const detail::line_cursor before = cursor;
        const std::int64_t index = cursor.whole("a corner such as 1, 1/2, 1//3 or 1/2/3");
        if (index == 0 || index > known || index < -known)
            before.fail("the number of one of the " + std::to_string(known) + " vertices above, counted from 1");
        if (cursor.accept('/')) {
            const bool texture = !cursor.accept('/');
            if (cursor.whole_here("a corner such as 1, 1/2, 1//3 or 1/2/3"); texture && cursor.accept('/'))
                cursor.whole_here("a corner such as 1, 1/2, 1//3 or 1/2/3");
        }
        if (!cursor.at_blank()) cursor.fail("a blank after the corner");
        return static_cast<std::uint32_t>(index > 0 ? index - 1 : known + index);
    };
    const auto read_face = [&] {
        detail::fan polygon(mesh);
        while (!cursor.at_end_of_line()) {
            if (polygon.corners() == detail::most_corners(mesh.vertices.size()))
                cursor.fail("a face of no more than " + std::to_string(polygon.corners()) +
                            " corners, twice the vertices above it");
            polygon.add(read_corner());
        }
        if (polygon.corners() < 3) cursor.fail("at least three corners");
        cursor.end_line();
    };
    static constexpr std::array<std::string_view, 9> skipped{"vt", "vn", "g", "o", "s", "l", "p", "usemtl", "mtllib"};

    while (!cursor.at_end()) {
        if (cursor.at_end_of_line()) {
            cursor.end_line();
            continue;
        }
        const detail::line_cursor start = cursor;
        const std::string_view statement = cursor.word();
        if (statement == "v")
            read_vertex();
        else if (statement == "f")
            read_face();
        else if (statement.starts_with('#'))
            cursor.skip_comment();
        else if (std::find(skipped.begin(), skipped.end(), statement) != skipped.end())
            cursor.skip_line();
        else
            start.fail("a statement of a polygon mesh: v, f, vt, vn, g, o, s, l, p, usemtl, mtllib or a comment");
    }
    return mesh;
}

} // namespace tranche
