// A triangle mesh out of a PLY file, text or little-endian binary.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <istream>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/loin/mesh/detail/mesh_source.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Reads the mesh of a PLY file whose coordinates are multiples of `unit` (the file does not say: `millimetre` or `metre`
/// for most scanners). Follows Turk, *The PLY polygon file format*, 1994 (from memory), version 1.0, `ascii` and
/// `binary_little_endian`; `binary_big_endian` is refused.
///
/// Read: of the element `vertex` the numbers x, y and z, of the element `face` the list `vertex_indices` (or
/// `vertex_index`), counted from 0; all other elements and properties are skipped. Polygons become fans around their first
/// corner, as in `read_obj`, and have no more corners than it allows. The counts in the header are checked against the size
/// of the file before anything is reserved.
///
/// Throws `invalid_input` naming the line, or in a binary body the byte, and what was expected there. The mesh may
/// still be open: see `validate`. O(size of the file). `unit` is a length above zero, or `invalid_input` is thrown;
/// vertices are in metres.
[[nodiscard]] triangle_mesh read_ply(std::istream& in, length unit);

namespace detail {

struct ply_type {
    std::size_t size = 0; ///< bytes in a binary body; 0: no type
    bool whole = false, has_sign = false;
};

[[nodiscard]] inline ply_type ply_type_of(std::string_view name) {
    struct named {
        std::string_view old_name, new_name;
        ply_type type;
    };
    static constexpr std::array<named, 8> names{{
        {"char", "int8", {1, true, true}},
        {"uchar", "uint8", {1, true, false}},
        {"short", "int16", {2, true, true}},
        {"ushort", "uint16", {2, true, false}},
        {"int", "int32", {4, true, true}},
        {"uint", "uint32", {4, true, false}},
        {"float", "float32", {4, false, true}},
        {"double", "float64", {8, false, true}},
    }};
    for (const named& n : names)
        if (name == n.old_name || name == n.new_name) return n.type;
    return {};
}

struct ply_property {
    enum class meaning { none, x, y, z, corners };
    meaning means = meaning::none;
    bool list = false;
    ply_type type{}, count_type{}; ///< of the value or the items, and of how many
};

struct ply_element {
    enum class meaning { none, vertices, faces };
    meaning means = meaning::none;
    std::uint64_t count = 0;
    std::vector<ply_property> properties{};
};

struct ply_header {
    bool binary = false;
    std::uint64_t vertices = 0;
    std::vector<ply_element> elements{};
};

[[nodiscard]] inline ply_property read_ply_property(line_cursor& cursor, ply_element::meaning of) {
    using meaning = ply_property::meaning;
    const auto read_type = [&] {
        const line_cursor start = cursor;
        const ply_type type = ply_type_of(cursor.word());
        if (type.size == 0) start.fail("a type: char, uchar, short, ushort, int, uint, float or double");
        return type;
    };
    ply_property property;
    if (cursor.peek_word() == "list") {
        cursor.expect("list");
        property.list = true;
        const line_cursor start = cursor;
        property.count_type = read_type();
        if (!property.count_type.whole) start.fail("a whole type for the number of items");
    }
    const line_cursor start = cursor;
    property.type = read_type();
    const std::string_view name = cursor.word();
    if (name.empty()) cursor.fail("the name of the property");
    if (of == ply_element::meaning::vertices)
        property.means = name == "x" ? meaning::x : name == "y" ? meaning::y : name == "z" ? meaning::z : meaning::none;
    if (of == ply_element::meaning::faces && (name == "vertex_indices" || name == "vertex_index")) {
        property.means = meaning::corners;
        if (!property.list || !property.type.whole) start.fail("a list of whole numbers as vertex indices");
    } else if (property.means != meaning::none && property.list) {
        start.fail("one number a vertex as its coordinate");
    }
    return property;
}

[[nodiscard]] inline ply_header read_ply_header(line_cursor& cursor) {
    using meaning = ply_property::meaning;
    ply_header header;
    cursor.expect("ply");
    cursor.end_line();
    cursor.expect("format");
    const std::string_view format = cursor.peek_word();
    if (format != "ascii" && format != "binary_little_endian")
        cursor.fail("ascii or binary_little_endian" +
                    std::string(format == "binary_big_endian" ? "; write the file again as one of these" : ""));
    header.binary = cursor.word() != "ascii";
    cursor.expect("1.0");
    cursor.end_line();
    for (;; cursor.end_line()) {
        const line_cursor start = cursor;
        const std::string_view statement = cursor.word();
        if (statement == "comment" || statement == "obj_info") {
            cursor.skip_rest();
        } else if (statement == "element") {
            const std::string_view name = cursor.word();
            ply_element element;
            if (name == "vertex") element.means = ply_element::meaning::vertices;
            if (name == "face") element.means = ply_element::meaning::faces;
            for (const ply_element& other : header.elements)
                if (element.means != ply_element::meaning::none && other.means == element.means)
                    start.fail("this element once only");
            const line_cursor number = cursor;
            const std::int64_t count = cursor.whole("the number of elements");
            if (count < 0) number.fail("the number of elements");
            element.count = static_cast<std::uint64_t>(count);
            if (element.means == ply_element::meaning::vertices) header.vertices = element.count;
            header.elements.push_back(element);
        } else if (statement == "property") {
            if (header.elements.empty()) start.fail("an element before its properties");
            ply_element& element = header.elements.back();
            element.properties.push_back(read_ply_property(cursor, element.means));
        } else if (statement == "end_header") {
            break;
        } else {
            start.fail("element, property, comment, obj_info or end_header");
        }
    }
    const auto require = [&](ply_element::meaning of, std::initializer_list<meaning> needed, const char* what) {
        for (const meaning m : needed) {
            std::ptrdiff_t found = 0;
            for (const ply_element& e : header.elements)
                if (e.means == of)
                    found += std::count_if(e.properties.begin(), e.properties.end(),
                                           [&](const ply_property& p) { return p.means == m; });
            if (found != 1) cursor.fail(std::string(what) + " above the end of the header, once each");
        }
    };
    require(ply_element::meaning::vertices, {meaning::x, meaning::y, meaning::z}, "an element vertex with x, y and z");
    require(ply_element::meaning::faces, {meaning::corners}, "an element face with vertex_indices");
    cursor.end_line();
    return header;
}

/// The body as text: a line for each element.
class ply_text {
public:
    explicit ply_text(const line_cursor& cursor) : cursor_(cursor) {}
    [[nodiscard]] double coordinate(ply_type /*type*/) { return cursor_.number("a finite coordinate"); }
    [[nodiscard]] std::int64_t whole(ply_type /*type*/) {
        const std::int64_t value = cursor_.whole("a whole number");
        if (!cursor_.at_blank()) cursor_.fail("a blank after the number");
        return value;
    }
    void skip(ply_type /*type*/, std::uint64_t count) {
        for (; count > 0; --count) (void)cursor_.any_number("a number");
    }
    void end_row() { cursor_.end_line("the end of the line, with no more values"); }
    /// How many values of a type there can still be: each takes two bytes, but the last perhaps one.
    [[nodiscard]] std::uint64_t room(std::uint64_t values, std::uint64_t /*bytes*/) const {
        return (cursor_.left() + 1) / (2 * values);
    }
    [[noreturn]] void fail(const std::string& expected) const { cursor_.fail(expected); }
    void end() {
        while (!cursor_.at_end() && cursor_.at_end_of_line()) cursor_.end_line();
        if (!cursor_.at_end()) fail("the end of the file after the last element");
    }

private:
    line_cursor cursor_;
};

/// The body in binary, little-endian.
class ply_binary {
public:
    ply_binary(std::string_view bytes, std::size_t at) : bytes_(bytes), at_(at) {}
    [[nodiscard]] double coordinate(ply_type type) {
        const std::size_t start = at_;
        const double value = type.whole       ? static_cast<double>(whole(type))
                             : type.size == 4 ? static_cast<double>(take<float>())
                                              : take<double>();
        if (!std::isfinite(value)) {
            at_ = start;
            fail("a finite coordinate");
        }
        return value;
    }
    [[nodiscard]] std::int64_t whole(ply_type type) {
        if (type.size == 1) return type.has_sign ? take<std::int8_t>() : take<std::uint8_t>();
        if (type.size == 2) return type.has_sign ? take<std::int16_t>() : take<std::uint16_t>();
        return type.has_sign ? std::int64_t{take<std::int32_t>()} : std::int64_t{take<std::uint32_t>()};
    }
    void skip(ply_type type, std::uint64_t count) {
        if (count > room(1, type.size)) fail(std::to_string(count) + " items");
        at_ += static_cast<std::size_t>(count) * type.size;
    }
    void end_row() {}
    [[nodiscard]] std::uint64_t room(std::uint64_t /*values*/, std::uint64_t bytes) const {
        return (bytes_.size() - at_) / bytes;
    }
    [[noreturn]] void fail(const std::string& expected) const {
        throw invalid_input("binary PLY byte " + std::to_string(at_),
                            std::to_string(bytes_.size() - at_) + " bytes before the end", expected);
    }
    void end() const {
        if (at_ != bytes_.size()) fail("the end of the file after the last element");
    }

private:
    template <class Number>
    [[nodiscard]] Number take() {
        if (bytes_.size() - at_ < sizeof(Number)) fail("a number of " + std::to_string(sizeof(Number)) + " bytes");
        at_ += sizeof(Number);
        return little_endian<Number>(bytes_.data() + at_ - sizeof(Number));
    }
    std::string_view bytes_;
    std::size_t at_;
};

template <class Body>
void read_ply_corners(Body& body, const ply_property& list, std::uint64_t vertices, triangle_mesh& mesh) {
    const std::int64_t corners = body.whole(list.count_type);
    if (corners < 3 || static_cast<std::uint64_t>(corners) > body.room(1, list.type.size))
        body.fail("a face of at least three corners, not " + std::to_string(corners));
    if (static_cast<std::uint64_t>(corners) > most_corners(vertices))
        body.fail("a face of no more than " + std::to_string(most_corners(vertices)) +
                  " corners, twice the vertices, not " + std::to_string(corners));
    fan polygon(mesh);
    for (std::int64_t k = 0; k < corners; ++k) {
        const std::int64_t index = body.whole(list.type);
        if (index < 0 || static_cast<std::uint64_t>(index) >= vertices)
            body.fail("the number of one of the " + std::to_string(vertices) + " vertices, counted from 0, not " +
                      std::to_string(index));
        polygon.add(static_cast<std::uint32_t>(index));
    }
}

template <class Body>
void read_ply_body(Body body, const ply_header& header, double scale, triangle_mesh& mesh) {
    using meaning = ply_property::meaning;
    for (const ply_element& element : header.elements) {
        std::uint64_t least_bytes = 0, of_corners = 0;
        for (const ply_property& p : element.properties) {
            least_bytes += p.list ? p.count_type.size : p.type.size;
            if (p.means == meaning::corners) of_corners = 3 * p.type.size;
        }
        const std::uint64_t values = element.properties.size();
        if (element.count > 0 && (least_bytes == 0 || element.count > body.room(values, least_bytes)))
            body.fail("the " + std::to_string(element.count) + " elements of the header");
        if (element.means == ply_element::meaning::vertices)
            mesh.vertices.reserve(static_cast<std::size_t>(element.count));
        if (element.means == ply_element::meaning::faces && element.count > 0) // a lie may promise more than fits
            mesh.triangles.reserve(
                static_cast<std::size_t>(std::min(element.count, body.room(values + 3, least_bytes + of_corners))));
        for (std::uint64_t i = 0; i < element.count; ++i) {
            mesh_point p;
            for (const ply_property& property : element.properties) {
                if (property.means == meaning::corners) {
                    read_ply_corners(body, property, header.vertices, mesh);
                } else if (property.list) {
                    const std::int64_t items = body.whole(property.count_type);
                    if (items < 0) body.fail("a number of items, not " + std::to_string(items));
                    body.skip(property.type, static_cast<std::uint64_t>(items));
                } else if (property.means == meaning::none) {
                    body.skip(property.type, 1);
                } else {
                    const double value = scale * body.coordinate(property.type);
                    (property.means == meaning::x ? p.x : property.means == meaning::y ? p.y : p.z) = value;
                }
            }
            if (element.means == ply_element::meaning::vertices) mesh.vertices.push_back(p);
            body.end_row();
        }
    }
    body.end();
}

} // namespace detail

inline triangle_mesh read_ply(std::istream& in, length unit) {
    const double scale = detail::metres_in(unit);
    const std::string bytes = detail::bytes_of(in, "PLY");
    detail::line_cursor cursor(bytes, "PLY");
    const detail::ply_header header = detail::read_ply_header(cursor);
    triangle_mesh mesh;
    if (header.binary)
        detail::read_ply_body(detail::ply_binary(bytes, cursor.offset()), header, scale, mesh);
    else
        detail::read_ply_body(detail::ply_text(cursor), header, scale, mesh);
    return mesh;
}

} // namespace tranche
