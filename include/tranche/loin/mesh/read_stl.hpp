// A triangle mesh out of an STL file, text or binary.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ios>
#include <istream>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/loin/mesh/detail/mesh_source.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Reads the mesh of an STL file whose coordinates are multiples of `unit` (the file does not say: `millimetre` for most
/// scanners). Follows section 6.5 of Burns, *Automated Fabrication*, 1993 (quoted in part on public pages).
///
/// Binary: 80 bytes of anything, the number n of triangles (32 bits), then n × 50 bytes: normal, three corners (32-bit
/// floats), two bytes; all little-endian. A file of just 84 + 50 n bytes is binary even if it begins with "solid", as some
/// do; any other is text and has to begin with "solid". Text: one solid, keywords in small letters. Normals are ignored.
///
/// STL repeats each vertex in each of its triangles. They are made one again where all three coordinates are equal to the
/// last bit (and -0 is 0): the tolerance is zero, because a scan's own writer repeats its own numbers, and any larger one
/// may close a hole that is one.
///
/// Throws `invalid_input` naming the line or the byte and what was expected there. The mesh may still be open: see
/// `validate`. O(size of the file), on average. `unit` is a length above zero, or `invalid_input` is thrown; vertices
/// are in metres.
[[nodiscard]] triangle_mesh read_stl(std::istream& in, length unit);

namespace detail {

/// Gives equal points equal indices: a hash table with open addressing.
class vertex_welder {
public:
    explicit vertex_welder(std::vector<mesh_point>& vertices) : vertices_(vertices), slots_(64) {}

    std::uint32_t index_of(mesh_point p) {
        p = {p.x + 0.0, p.y + 0.0, p.z + 0.0}; // -0 becomes 0
        if (2 * (vertices_.size() + 1) > slots_.size()) grow();
        slot& found = slot_of(p);
        if (found.index == none) {
            found.index = static_cast<std::uint32_t>(vertices_.size());
            vertices_.push_back(p);
        }
        return found.index;
    }

private:
    static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
    struct slot {
        std::uint32_t index = none, hash = 0; // tells most points apart without a look at them, far off in memory
    };

    [[nodiscard]] static std::uint64_t mixed(std::uint64_t x) { // the finaliser of SplitMix64 (Steele et al. 2014)
        x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
        x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
        return x ^ (x >> 31U);
    }
    /// The slot of a point, or the empty one that it gets.
    [[nodiscard]] slot& slot_of(mesh_point p) {
        const auto bits = [](double value) { return std::bit_cast<std::uint64_t>(value); };
        const auto hash = static_cast<std::uint32_t>(mixed(mixed(mixed(bits(p.x)) + bits(p.y)) + bits(p.z)));
        const auto other = [&](slot s) { return s.index != none && !(s.hash == hash && vertices_[s.index] == p); };
        std::size_t at = hash & (slots_.size() - 1);
        while (other(slots_[at])) at = (at + 1) & (slots_.size() - 1);
        slots_[at].hash = hash;
        return slots_[at];
    }
    void grow() {
        slots_.assign(2 * slots_.size(), {});
        for (std::size_t v = 0; v < vertices_.size(); ++v) slot_of(vertices_[v]).index = static_cast<std::uint32_t>(v);
    }

    std::vector<mesh_point>& vertices_;
    std::vector<slot> slots_;
};

/// The corners that were read lately from a text, by the text of their lines: a corner stands in some six facets near each
/// other, with the same digits each time, and to find a text again takes less time than to read three numbers and look for
/// them among all vertices. One place for each hash; the later line takes that of the earlier. Very long lines have none.
class corner_texts {
public:
    /// The index of a vertex whose line said just this; none if it was not put in lately, or if `line` is empty.
    [[nodiscard]] std::optional<std::uint32_t> find(std::string_view line) const {
        const place& found = places_[place_of(line)];
        return !line.empty() && found.text() == line ? std::optional(found.index) : std::nullopt;
    }
    void put(std::string_view line, std::uint32_t index) {
        place& taken = places_[place_of(line)];
        if (line.size() > taken.room.size()) return;
        taken.index = index;
        taken.size = static_cast<std::uint32_t>(line.size());
        std::copy(line.begin(), line.end(), taken.room.begin());
    }

private:
    struct place {
        std::uint32_t index = 0, size = 0;
        std::array<char, 88> room; // three numbers of 17 digits with signs and exponents take 73

        [[nodiscard]] std::string_view text() const { return {room.data(), size}; }
    };
    [[nodiscard]] std::size_t place_of(std::string_view line) const {
        return std::hash<std::string_view>()(line) % places_.size();
    }

    std::vector<place> places_{4096}; // a row of a scan's vertices and the next
};

/// A text STL file in blocks that end where a facet does: the memory for a whole one takes longer to get than its text to read.
class facet_blocks {
public:
    /// Of `start` and what is left in `in`.
    facet_blocks(std::string start, std::istream& in) : in_(in), text_(std::move(start)), total_(text_.size()) {}

    /// The next block, in place of the last; empty at the end.
    [[nodiscard]] std::string_view next() {
        text_.erase(0, given_);
        for (given_ = 0; given_ == 0 && in_.good(); given_ = end_of_last_facet()) {
            const std::size_t held = text_.size();
            text_.resize(held + std::max(held, block)); // twice as much, lest all be searched for each block
            in_.read(text_.data() + held, static_cast<std::streamsize>(text_.size() - held));
            text_.resize(held + static_cast<std::size_t>(in_.gcount()));
            require_unbroken(in_, total_ += text_.size() - held, "STL");
        }
        if (!in_.good()) given_ = text_.size();
        return std::string_view(text_).substr(0, given_);
    }

private:
    static constexpr std::size_t block = 262144; // fits into a processor's own memory

    /// Behind the last line that ends in "endfacet"; 0 if there is none. Only there no line goes on and no facet is open,
    /// unless it is the name of the solid, or is refused.
    [[nodiscard]] std::size_t end_of_last_facet() const {
        constexpr std::string_view keyword = "endfacet";
        const std::size_t last = text_.rfind(keyword);
        if (last == std::string::npos) return 0;
        const std::size_t end = text_.find_first_not_of(" \t\r", last + keyword.size());
        return end != std::string::npos && text_[end] == '\n' ? end + 1 : 0;
    }

    std::istream& in_;
    std::string text_;
    std::size_t total_, given_ = 0;
};

inline constexpr std::size_t stl_header = 80, stl_record = 50;

[[nodiscard]] inline triangle_mesh read_binary_stl(std::string_view bytes, std::size_t count, double scale) {
    triangle_mesh mesh;
    mesh.triangles.reserve(count);
    mesh.vertices.reserve(count / 2 + 2); // Euler: a closed surface without handles has just so many
    vertex_welder welder(mesh.vertices);
    for (std::size_t t = 0; t < count; ++t) {
        const std::size_t corners = stl_header + 4 + t * stl_record + 12;
        triangle_mesh::triangle triangle{};
        for (std::size_t k = 0; k < 3; ++k) {
            std::array<double, 3> p{};
            for (std::size_t c = 0; c < 3; ++c) {
                const std::size_t at = corners + 12 * k + 4 * c;
                p[c] = scale * static_cast<double>(little_endian<float>(bytes.data() + at));
                if (!std::isfinite(p[c]))
                    throw invalid_input("binary STL byte " + std::to_string(at), detail::shown(p[c]),
                                        "a finite coordinate of triangle " + std::to_string(t + 1));
            }
            triangle[k] = welder.index_of({p[0], p[1], p[2]});
        }
        mesh.triangles.push_back(triangle);
    }
    return mesh;
}

[[nodiscard]] inline triangle_mesh read_text_stl(facet_blocks blocks, double scale) {
    triangle_mesh mesh;
    vertex_welder welder(mesh.vertices);
    corner_texts texts;
    line_cursor cursor(blocks.next(), "STL");
    const auto skip_empty_lines = [&] {
        while (cursor.at_end_of_line()) {
            cursor.end_line();
            if (!cursor.at_end()) continue;
            cursor.go_on_in(blocks.next());
            if (cursor.at_end()) return;
        }
    };
    const auto expect_on_next_line = [&](std::string_view keyword) {
        skip_empty_lines();
        cursor.expect(keyword);
    };
    // Most facets say this just as the facet before did, and to compare a text is faster than to read its words.
    line_cursor::lines loop_start, facet_end;
    const auto read_or_repeat = [&](line_cursor::lines& last, const auto& read_words) {
        if (cursor.accept(last)) return;
        const line_cursor start = cursor;
        read_words();
        last = cursor.lines_since(start);
    };
    expect_on_next_line("solid");
    cursor.skip_comment(); // its name
    while (skip_empty_lines(), cursor.accept("facet")) {
        cursor.expect("normal");
        for (int i = 0; i < 3; ++i) (void)cursor.any_number("three numbers, the normal");
        cursor.end_line();
        read_or_repeat(loop_start, [&] {
            expect_on_next_line("outer");
            cursor.expect("loop");
            cursor.end_line();
        });
        triangle_mesh::triangle triangle{};
        for (std::uint32_t& corner : triangle) {
            expect_on_next_line("vertex");
            const std::string_view line = cursor.rest_of_line();
            if (const std::optional<std::uint32_t> known = texts.find(line)) {
                corner = *known;
                cursor.skip_comment();
                continue;
            }
            const std::size_t end = cursor.offset() + line.size() + 1;
            std::array<double, 3> p{};
            for (double& coordinate : p) coordinate = scale * cursor.number("three finite coordinates");
            cursor.end_line();
            corner = welder.index_of({p[0], p[1], p[2]});
            if (cursor.offset() == end) texts.put(line, corner); // not if it went on on the next line
        }
        read_or_repeat(facet_end, [&] {
            for (const std::string_view end : {"endloop", "endfacet"}) {
                expect_on_next_line(end);
                cursor.end_line();
            }
        });
        mesh.triangles.push_back(triangle);
    }
    if (!cursor.accept("endsolid")) cursor.fail("\"facet normal\" or \"endsolid\"");
    cursor.skip_comment();
    skip_empty_lines();
    if (!cursor.at_end()) cursor.fail("the end of the file after one solid");
    return mesh;
}

} // namespace detail

inline triangle_mesh read_stl(std::istream& in, length unit) {
    const double scale = detail::metres_in(unit);
    detail::require_open(in, "STL");
    constexpr std::size_t shortest = detail::stl_header + 4;
    std::string bytes(shortest, '\0');
    in.read(bytes.data(), shortest);
    bytes.resize(static_cast<std::size_t>(in.gcount()));
    if (bytes.size() == shortest) {
        const std::size_t count = detail::little_endian<std::uint32_t>(bytes.data() + detail::stl_header);
        const std::size_t whole = shortest + count * detail::stl_record;
        const bool named = bytes.starts_with("solid");
        // Letters where the number stands would make it a file larger than any.
        if (!named || whole <= detail::largest_mesh_file) bytes = detail::bytes_of(in, "STL", std::move(bytes));
        if (bytes.size() == whole) return detail::read_binary_stl(bytes, count, scale);
        if (!named)
            throw invalid_input("STL", std::to_string(bytes.size()) + " bytes",
                                "text that begins with \"solid\", or, with the " + std::to_string(count) +
                                    " triangles of the binary header, " + std::to_string(whole) + " bytes");
    }
    return detail::read_text_stl({std::move(bytes), in}, scale);
}

} // namespace tranche
