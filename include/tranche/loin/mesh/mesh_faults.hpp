// Whether a mesh is the whole surface of a body, and if not, how many faults it has and where.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/mesh/detail/nested_boxes.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// How often one kind of fault occurs, and the first place: the number of the triangle (or vertex), counted from 0, and a
/// point there.
struct mesh_fault {
    std::size_t count = 0;
    std::size_t first = 0;
    mesh_point at{};

    friend bool operator==(const mesh_fault&, const mesh_fault&) = default;
};

/// What `faults_of` found. Vertices and indices are looked at first; if any is bad, nothing else is.
struct mesh_report {
    mesh_fault bad_vertices;         ///< not finite, or more than a kilometre from the origin
    mesh_fault bad_indices;          ///< triangles with an index beyond the vertices
    mesh_fault degenerate_triangles; ///< without area: a corner twice, or three in a line
    mesh_fault open_edges;           ///< on one triangle only: the rim of a hole
    mesh_fault crowded_edges;        ///< on three triangles or more, so that it is not clear what is inside
    mesh_fault turned_triangles;     ///< the fewest that must be turned over for all to agree with their neighbours
    mesh_fault stray_hollows;        ///< pieces that are inside out without another piece around them, by their boxes
    bool inside_out = false;         ///< all agree, but the volume is negative
    bool empty = false;              ///< no triangles, or a volume of zero

    /// Whether no fault was found, so that the mesh is the closed surface of a body. Throws nothing.
    [[nodiscard]] bool closed() const {
        return bad_vertices.count + bad_indices.count + degenerate_triangles.count + open_edges.count +
                       crowded_edges.count + turned_triangles.count + stray_hollows.count ==
                   0 &&
               !inside_out && !empty;
    }

    friend bool operator==(const mesh_report&, const mesh_report&) = default;
};

/// Looks for every fault of `mesh_report`. A triangle counts as degenerate when twice its area is below the rounding
/// error of computing it, 4 ε × the square of its longest side. What is not looked for: surfaces that cut through
/// themselves, and hollows that lie in the box around a piece but not in the piece. O(triangles) for meshes of one piece
/// whose vertices have a bounded number of neighbours, else O(n log n); for n hollows among n pieces whose boxes all cross
/// each other up to O(n^(11/6)). Coordinates may have any unit. Throws nothing but for lack of memory: faults are in the
/// report.
[[nodiscard]] mesh_report faults_of(const triangle_mesh& mesh);

/// Throws `invalid_input` that says how many faults of each kind there are and where the first of each is, unless the
/// mesh is the closed surface of a body with its outside out. Cost: one `faults_of`.
void validate(const triangle_mesh& mesh);

namespace detail {

inline void count_fault(mesh_fault& fault, std::size_t where, mesh_point at) {
    if (fault.count++ == 0 || where < fault.first) {
        fault.first = where;
        fault.at = at;
    }
}

/// One of the three sides of a triangle, filed under the lower of its two vertices. Eight bytes: of large meshes the check waits
/// for memory. Two thousand million triangles are enough.
struct mesh_side {
    std::uint32_t other;         ///< the higher vertex
    std::uint32_t triangle : 31; ///< its number
    std::uint32_t falling : 1;   ///< runs from the higher vertex to the lower
};

/// Which triangles agree in orientation: union-find with the parity of turning over.
class turning_sets {
public:
    explicit turning_sets(std::size_t count) : parent_(count), turned_(count) {
        std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    }
    /// The representative of a triangle; `turned` says whether the triangle is the other way round.
    std::size_t find(std::size_t triangle, bool& turned) {
        std::size_t root = triangle;
        turned = false;
        for (; parent_[root] != root; root = parent_[root]) turned = turned != (turned_[root] != 0);
        bool rest = turned;
        while (parent_[triangle] != root && triangle != root) { // path compression
            const std::size_t next = parent_[triangle];
            const bool step = turned_[triangle] != 0;
            parent_[triangle] = root;
            turned_[triangle] = rest ? 1 : 0;
            rest = rest != step;
            triangle = next;
        }
        return root;
    }
    void join(std::size_t a, std::size_t b, bool opposite) {
        bool a_turned = false, b_turned = false;
        const std::size_t p = find(a, a_turned), q = find(b, b_turned);
        if (p == q) return;
        parent_[q] = p;
        turned_[q] = (a_turned != b_turned) != opposite ? 1 : 0;
    }

private:
    std::vector<std::size_t> parent_;
    std::vector<char> turned_;
};

/// In each connected piece the smaller half of those that disagree is called turned; in a tie, the later one.
inline void count_turned(const triangle_mesh& mesh, turning_sets& sets, mesh_fault& fault) {
    const std::size_t count = mesh.triangles.size();
    std::vector<std::array<std::size_t, 2>> votes(count);
    for (std::size_t t = 0; t < count; ++t) {
        bool turned = false;
        const std::size_t root = sets.find(t, turned);
        ++votes[root][turned ? 1 : 0];
    }
    std::vector<char> first_is_turned(count);
    for (std::size_t t = count; t-- > 0;) {
        bool turned = false;
        const std::size_t root = sets.find(t, turned);
        first_is_turned[root] = turned ? 1 : 0; // ends with the parity of the first triangle of the piece
    }
    for (std::size_t t = 0; t < count; ++t) {
        bool turned = false;
        const std::size_t root = sets.find(t, turned);
        const bool ones_are_fewer =
            votes[root][1] < votes[root][0] || (votes[root][1] == votes[root][0] && first_is_turned[root] == 0);
        if (turned == ones_are_fewer) count_fault(fault, t, mesh.vertices[mesh.triangles[t][0]]);
    }
}

/// All sides, those of each lower vertex together, sorted by the higher one; `starts` has one entry more than vertices.
inline std::vector<mesh_side> sorted_sides(const triangle_mesh& mesh, std::vector<std::size_t>& starts) {
    starts.assign(mesh.vertices.size() + 1, 0);
    const auto for_each_side = [&](auto&& f) {
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
            for (std::size_t k = 0; k < 3; ++k) f(t, mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3]);
    };
    for_each_side([&](std::size_t, std::uint32_t a, std::uint32_t b) { ++starts[std::min(a, b) + std::size_t{1}]; });
    std::partial_sum(starts.begin(), starts.end(), starts.begin());
    std::vector<mesh_side> sides(starts.back());
    std::vector<std::size_t> next(starts.begin(), starts.end() - 1);
    for_each_side([&](std::size_t t, std::uint32_t a, std::uint32_t b) {
        sides[next[std::min(a, b)]++] = {std::max(a, b), static_cast<std::uint32_t>(t) & 0x7fff'ffffU, a > b ? 1U : 0U};
    });
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v)
        std::sort(sides.begin() + static_cast<std::ptrdiff_t>(starts[v]),
                  sides.begin() + static_cast<std::ptrdiff_t>(starts[v + 1]),
                  [](const mesh_side& a, const mesh_side& b) {
                      return a.other != b.other ? a.other < b.other : a.triangle < b.triangle;
                  });
    return sides;
}

inline void check_sides(const triangle_mesh& mesh, mesh_report& report) {
    std::vector<std::size_t> starts;
    const std::vector<mesh_side> sides = sorted_sides(mesh, starts);
    std::vector<std::array<std::uint32_t, 2>> pairs_that_disagree;
    const auto for_each_edge = [&](auto&& f) {
        for (std::size_t v = 0; v < mesh.vertices.size(); ++v)
            for (std::size_t from = starts[v]; from < starts[v + 1];) {
                std::size_t to = from + 1;
                while (to < starts[v + 1] && sides[to].other == sides[from].other) ++to;
                f(0.5 * (mesh.vertices[v] + mesh.vertices[sides[from].other]), from, to);
                from = to;
            }
    };
    bool all_agree = true;
    for_each_edge([&](mesh_point middle, std::size_t from, std::size_t to) {
        if (to - from == 1) count_fault(report.open_edges, sides[from].triangle, middle);
        if (to - from > 2) count_fault(report.crowded_edges, sides[from].triangle, middle);
        if (to - from == 2 && sides[from].falling == sides[from + 1].falling) all_agree = false;
    });
    if (all_agree) return;
    turning_sets sets(mesh.triangles.size());
    for_each_edge([&](mesh_point, std::size_t from, std::size_t to) {
        if (to - from == 2)
            sets.join(sides[from].triangle, sides[from + 1].triangle, sides[from].falling == sides[from + 1].falling);
    });
    count_turned(mesh, sets, report.turned_triangles);
}

/// Looks at closed, well-turned pieces that hang together by their vertices. A hollow has to lie in the box of a piece with
/// its outside out.
inline void check_hollows(const triangle_mesh& mesh, mesh_fault& fault) {
    std::vector<std::uint32_t> parent(mesh.vertices.size());
    std::iota(parent.begin(), parent.end(), std::uint32_t{0});
    const auto root_of = [&](std::uint32_t v) {
        while (parent[v] != v) v = parent[v] = parent[parent[v]];
        return v;
    };
    for (const auto& [a, b, c] : mesh.triangles) {
        parent[root_of(b)] = root_of(a);
        parent[root_of(c)] = root_of(a);
    }
    struct piece {
        std::size_t first = 0; // triangle
        double sixfold = 0.0;
        mesh_bounds box{};
    };
    std::vector<piece> pieces;
    constexpr auto none = std::numeric_limits<std::size_t>::max();
    std::vector<std::size_t> number(mesh.vertices.size(), none);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto& corners = mesh.triangles[t];
        std::size_t& which = number[root_of(corners[0])];
        if (which == none) {
            which = pieces.size();
            pieces.push_back({.first = t});
        }
        piece& p = pieces[which];
        const mesh_point origin = mesh.vertices[mesh.triangles[p.first][0]];
        p.sixfold += dot(mesh.vertices[corners[0]] - origin,
                         cross(mesh.vertices[corners[1]] - origin, mesh.vertices[corners[2]] - origin));
        for (const std::uint32_t v : corners) p.box.add(mesh.vertices[v]);
    }
    std::vector<mesh_bounds> meat;
    for (const piece& p : pieces)
        if (p.sixfold > 0.0) meat.push_back(p.box);
    if (meat.size() == pieces.size()) return;
    const nested_boxes around(std::move(meat));
    std::size_t looked_at = 0;
    for (const piece& hollow : pieces)
        if (hollow.sixfold < 0.0 && !around.any_around(hollow.box, looked_at))
            count_fault(fault, hollow.first, mesh.vertices[mesh.triangles[hollow.first][0]]);
}

[[nodiscard]] inline std::string place_text(mesh_point p) {
    const auto millimetres = [](double metres) { return detail::shown(metres * 1000.0, 3); };
    return '(' + millimetres(p.x) + ", " + millimetres(p.y) + ", " + millimetres(p.z) + ") mm";
}

} // namespace detail

inline mesh_report faults_of(const triangle_mesh& mesh) {
    mesh_report report;
    constexpr double kilometre = 1000.0;
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v) {
        const mesh_point& p = mesh.vertices[v];
        if (!(std::abs(p.x) <= kilometre && std::abs(p.y) <= kilometre && std::abs(p.z) <= kilometre))
            detail::count_fault(report.bad_vertices, v, p);
    }
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto& corners = mesh.triangles[t];
        const std::uint32_t highest = *std::max_element(corners.begin(), corners.end());
        if (highest >= mesh.vertices.size()) detail::count_fault(report.bad_indices, t, {});
    }
    report.empty = mesh.triangles.empty();
    if (report.bad_vertices.count + report.bad_indices.count > 0 || report.empty) return report;

    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto& [a, b, c] = mesh.triangles[t];
        const mesh_point p = mesh.vertices[a], q = mesh.vertices[b] - p, r = mesh.vertices[c] - p;
        const mesh_point normal = detail::cross(q, r);
        const double longest = std::max({detail::dot(q, q), detail::dot(r, r), detail::dot(r - q, r - q)});
        const double rounding_error = 4.0 * std::numeric_limits<double>::epsilon() * longest;
        if (detail::dot(normal, normal) <= rounding_error * rounding_error)
            detail::count_fault(report.degenerate_triangles, t, p);
    }
    detail::check_sides(mesh, report);
    if (report.closed()) {
        const volume inside = detail::volume_of(mesh);
        report.inside_out = inside < volume{};
        report.empty = inside == volume{};
        if (!report.inside_out) detail::check_hollows(mesh, report.stray_hollows);
    }
    return report;
}

inline void validate(const triangle_mesh& mesh) {
    const mesh_report report = faults_of(mesh);
    if (report.closed()) return;
    std::string faults;
    const auto tell = [&](const mesh_fault& fault, const char* one, const char* many, const std::string& where) {
        if (fault.count == 0) return;
        if (!faults.empty()) faults += ", ";
        faults += std::to_string(fault.count) + ' ' + (fault.count == 1 ? one : many) + " (" +
                  (fault.count == 1 ? "" : "first: ") + where + std::to_string(fault.first + 1);
        faults += &fault == &report.bad_indices ? ")" : " at " + detail::place_text(fault.at) + ')';
    };
    tell(report.bad_vertices, "vertex that is not finite or a kilometre away",
         "vertices that are not finite or a kilometre away", "vertex ");
    tell(report.bad_indices, "triangle with a vertex that does not exist",
         "triangles with a vertex that does not exist", "triangle ");
    tell(report.degenerate_triangles, "triangle without area", "triangles without area", "triangle ");
    tell(report.open_edges, "open edge", "open edges", "triangle ");
    tell(report.crowded_edges, "edge of more than two triangles", "edges of more than two triangles", "triangle ");
    tell(report.turned_triangles, "triangle the wrong way round", "triangles the wrong way round", "triangle ");
    tell(report.stray_hollows, "piece inside out with nothing around it", "pieces inside out with nothing around them",
         "triangle ");
    if (report.inside_out)
        faults = "a surface that is inside out, with all " + std::to_string(mesh.triangles.size()) +
                 " triangles the wrong way round";
    if (report.empty) faults = mesh.triangles.empty() ? "no triangles" : "a surface around no volume";
    throw invalid_input("mesh", faults,
                        "a closed surface, each edge on just two triangles, all counter-clockwise seen from outside");
}

} // namespace tranche
