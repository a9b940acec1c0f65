// The volume of a mesh in front of a plane that moves along a direction: exact, a cubic between any two vertices.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/loin/mesh/detail/mesh_levels.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// First moment of a volume about a plane, in m⁴.
using volume_moment = boost::units::quantity<
    boost::units::multiply_typeof_helper<boost::units::si::volume, boost::units::si::length>::type>;

/// V(s), the volume of a closed mesh in front of the plane at s, and A(s) = dV/ds, the area of the section there. s is
/// measured along `direction` from the foremost vertex. For an oblique cut give the normal of the knife.
///
/// By Green's theorem A = Σ ∫ u dw over the section's edges, one for each triangle that the plane meets, in coordinates u
/// and w of the plane. The edge of a triangle with corners 0, 1, 2 in order of s grows in a straight line from nothing at
/// s0 to the chord through corner 1 and back to nothing at s2, so its term is a quadratic on [s0, s1] and another on
/// [s1, s2]; between positions of vertices A is a quadratic and V a cubic. Nothing is sampled.
///
/// Positions are sorted once. A triangle's quadratic is filed, by its Bernstein coefficients, at the O(log n) nodes of a
/// binary tree over the sorted positions that make up its interval; then all are handed down to the leaves, which takes
/// averages only. (The usual way, to add at s0 and to take away at s1, is ruined by flat faces that stand a rounding error
/// askew: steep terms do not cancel.) Relative errors of A and V are a few ε × √n.
///
/// Which vertices count, and which are taken as level: see `mesh_levels`. Immutable; safe to share.
class cumulative_volume {
public:
    /// O(n log n) for n triangles. `direction` has any length but zero. The mesh is taken to be closed, with indices in
    /// range: call `validate` first. Throws `invalid_input` for a bad direction and for a mesh without extent along it.
    /// Coordinates are metres.
    cumulative_volume(const triangle_mesh& mesh, mesh_point direction)
        : cumulative_volume(mesh, detail::mesh_levels(mesh, direction)) {}
    /// The same along the direction of `levels`, which are those of `mesh`. Throws nothing of its own.
    cumulative_volume(const triangle_mesh& mesh, const detail::mesh_levels& levels);

    /// From the foremost to the last vertex. In metres, above zero. Throws nothing.
    [[nodiscard]] length extent() const { return length::from_value(positions_.back()); }
    /// Of the whole mesh. In cubic metres, zero or more but for rounding. Throws nothing.
    [[nodiscard]] volume total() const { return volume::from_value(volumes_.back()); }
    /// In front of `at`: 0 up to the foremost vertex, `total()` from the last one on. Never falls, but for rounding, if
    /// the mesh does not cut through itself. O(log n). Cubic metres, at any place in metres but NaN; throws nothing.
    [[nodiscard]] volume volume_before(length at) const {
        const auto [i, t] = place_of(at.value());
        const auto& [a, b, c] = areas_[i];
        // The integral of a quadratic in Bernstein form, from the nearer end so that no digits are lost.
        const double width = positions_[i + 1] - positions_[i], r = 1.0 - t;
        if (t <= 0.5) return volume::from_value(volumes_[i] + detail::unfused(width * t * part(a, b, c, t)));
        return volume::from_value(volumes_[i + 1] - detail::unfused(width * r * part(c, b, a, r)));
    }
    /// The first moment of what lies in front of `at` about the plane there, ∫ (at - s) A(s) ds = ∫ V(s) ds from 0 to
    /// `at`: a quartic between any two vertices. O(log n). In m⁴, at any place in metres but NaN; throws nothing.
    [[nodiscard]] volume_moment moment_before(length at) const {
        const auto [i, t] = place_of(at.value());
        const auto& [a, b, c] = areas_[i];
        const double width = positions_[i + 1] - positions_[i], beyond = std::max(0.0, at.value() - positions_.back());
        const double inside = t * t * (a / 2.0 + detail::unfused(t * ((b - a) / 3.0 + t * ((a - b) + (c - b)) / 12.0)));
        return volume_moment::from_value(
            moments_[i] +
            detail::unfused(width * (detail::unfused(t * volumes_[i]) + detail::unfused(width * inside))) +
            detail::unfused(beyond * volumes_.back()));
    }
    /// Of the section at `at`; where the area jumps, that of the side with more s, but at the last vertex that in
    /// front. 0 beyond the mesh. O(log n). Square metres, at any place in metres; throws nothing.
    [[nodiscard]] area area_at(length at) const {
        if (!(at.value() >= 0.0 && at.value() <= positions_.back())) return {};
        const auto [i, t] = place_of(at.value());
        const auto& [a, b, c] = areas_[i];
        const double r = 1.0 - t;
        return area::from_value(detail::unfused(r * r * a) + detail::unfused(2.0 * r * t * b) +
                                detail::unfused(t * t * c));
    }
    /// Where one cubic ends and the next begins, rising from 0 to the extent, in metres. Throws nothing.
    [[nodiscard]] const std::vector<double>& breakpoints() const { return positions_; }

private:
    /// Values at both ends and, in the middle, of the control point between.
    using quadratic = std::array<double, 3>;

    /// Mean of the quadratic (a, b, c) over [0, t].
    [[nodiscard]] static double part(double a, double b, double c, double t) {
        return a + detail::unfused(t * (b - a)) + t * t * ((a - b) + (c - b)) / 3.0;
    }
    [[nodiscard]] std::pair<std::size_t, double> place_of(double at) const {
        const auto above = std::upper_bound(positions_.begin() + 1, positions_.end() - 1, at);
        const auto i = static_cast<std::size_t>(above - positions_.begin()) - 1;
        return {i, std::clamp((at - positions_[i]) / (positions_[i + 1] - positions_[i]), 0.0, 1.0)};
    }

    void add_triangles(const triangle_mesh& mesh, const std::vector<mesh_point>& places,
                       const detail::mesh_levels& levels, std::vector<quadratic>& tree) const;
    void hand_down(std::vector<quadratic>& tree);

    std::vector<double> positions_; ///< metres, strictly rising
    std::vector<quadratic> areas_;  ///< square metres, of each interval
    std::vector<double> volumes_;   ///< cubic metres, in front of each position
    std::vector<double> moments_;   ///< ∫ V ds up to each position
};

namespace detail {

/// Two directions that complete a unit vector to a right-handed frame.
[[nodiscard]] inline std::pair<mesh_point, mesh_point> plane_of(mesh_point along) {
    const mesh_point size{std::abs(along.x), std::abs(along.y), std::abs(along.z)};
    const mesh_point other = size.x <= size.y && size.x <= size.z ? mesh_point{1.0, 0.0, 0.0}
                             : size.y <= size.z                   ? mesh_point{0.0, 1.0, 0.0}
                                                                  : mesh_point{0.0, 0.0, 1.0};
    const mesh_point normal = cross(along, other);
    const mesh_point u = 1.0 / std::sqrt(dot(normal, normal)) * normal;
    return {u, cross(along, u)};
}

} // namespace detail

inline cumulative_volume::cumulative_volume(const triangle_mesh& mesh, const detail::mesh_levels& levels)
    : positions_(levels.positions()) {
    const mesh_point origin = detail::bounds_of(mesh).centre();
    const auto [across, up] = detail::plane_of(levels.along());
    std::vector<mesh_point> places(mesh.vertices.size()); // u, w and s
    for (std::size_t v = 0; v < places.size(); ++v) {
        const mesh_point p = mesh.vertices[v] - origin;
        places[v] = {detail::dot(p, across), detail::dot(p, up), positions_[levels.level(v)]};
    }
    // Leaf i is node `leaves + i`; nodes 2 k and 2 k + 1 are the halves of node k.
    std::vector<quadratic> tree(2 * std::bit_ceil(positions_.size() - 1));
    add_triangles(mesh, places, levels, tree);
    hand_down(tree);
}

inline void cumulative_volume::add_triangles(const triangle_mesh& mesh, const std::vector<mesh_point>& places,
                                             const detail::mesh_levels& levels, std::vector<quadratic>& tree) const {
    const std::size_t leaves = tree.size() / 2;
    // Files chord · λ · u on [from, to], where λ runs from `start` (0 or 1) to 1 - start and u from u0 to u1.
    const auto file = [&](std::size_t from, std::size_t to, double chord, bool rising, double u0, double u1) {
        const double s0 = positions_[from], per_length = 1.0 / (positions_[to] - s0);
        const auto add = [&](std::size_t node, std::size_t first, std::size_t last) {
            const double t0 = detail::unfused((positions_[first] - s0) * per_length);
            const double t1 = detail::unfused((positions_[last] - s0) * per_length);
            const double l0 = chord * (rising ? t0 : 1.0 - t0), l1 = chord * (rising ? t1 : 1.0 - t1);
            const double m0 = u0 + detail::unfused(t0 * (u1 - u0)), m1 = u0 + detail::unfused(t1 * (u1 - u0));
            tree[node][0] += detail::unfused(l0 * m0);
            tree[node][1] += 0.5 * (detail::unfused(l0 * m1) + detail::unfused(l1 * m0));
            tree[node][2] += detail::unfused(l1 * m1);
        };
        std::size_t width = 1;
        for (std::size_t l = from + leaves, r = to + leaves; l < r; l /= 2, r /= 2, width *= 2) {
            if (l % 2 == 1) {
                add(l, l * width - leaves, (l + 1) * width - leaves);
                ++l;
            }
            if (r % 2 == 1) {
                --r;
                add(r, r * width - leaves, (r + 1) * width - leaves);
            }
        }
    };
    for (const triangle_mesh::triangle& corners : mesh.triangles) {
        std::array<std::uint32_t, 3> v = corners;
        double sign = 1.0;
        const auto order = [&](std::size_t a, std::size_t b) {
            if (levels.level(v[a]) <= levels.level(v[b])) return;
            std::swap(v[a], v[b]);
            sign = -sign;
        };
        order(0, 1), order(1, 2), order(0, 1);
        const std::size_t i0 = levels.level(v[0]), i1 = levels.level(v[1]), i2 = levels.level(v[2]);
        if (i0 == i2) continue; // level: no plane cuts it
        const mesh_point &p0 = places[v[0]], &p1 = places[v[1]], &p2 = places[v[2]];
        const double t = (p1.z - p0.z) / (p2.z - p0.z); // where the chord through corner 1 meets the opposite side
        const double chord = sign * (p1.y - (p0.y + detail::unfused(t * (p2.y - p0.y))));
        const double middle = 0.5 * (p1.x + (p0.x + detail::unfused(t * (p2.x - p0.x))));
        if (i0 < i1) file(i0, i1, chord, true, p0.x, middle);
        if (i1 < i2) file(i1, i2, chord, false, middle, p2.x);
    }
}

/// Cuts the quadratics of all nodes to those of their halves (de Casteljau), down to the leaves, and adds up the volumes.
inline void cumulative_volume::hand_down(std::vector<quadratic>& tree) {
    const std::size_t leaves = tree.size() / 2, pieces = positions_.size() - 1;
    std::size_t width = leaves;
    for (std::size_t node = 1; node < leaves; ++node) {
        if (std::has_single_bit(node) && node > 1) width /= 2;
        const auto position = [&](std::size_t leaf) { return positions_[std::min(leaf, pieces)]; };
        const std::size_t first = node * width - leaves;
        const double from = position(first), middle = position(first + width / 2), to = position(first + width);
        if (!(to > from)) continue; // beyond the last leaf
        const double t = (middle - from) / (to - from);
        const auto mix = [t](double a, double b) { return a + detail::unfused(t * (b - a)); };
        const auto [a, b, c] = tree[node];
        const double ab = mix(a, b), bc = mix(b, c), abc = mix(ab, bc);
        quadratic &left = tree[2 * node], &right = tree[2 * node + 1];
        left = {left[0] + a, left[1] + ab, left[2] + abc};
        right = {right[0] + abc, right[1] + bc, right[2] + c};
    }
    areas_.assign(tree.begin() + static_cast<std::ptrdiff_t>(leaves),
                  tree.begin() + static_cast<std::ptrdiff_t>(leaves + pieces));
    // Kahan (1965, Commun. ACM 8:40): the terms are of one sign, but many.
    const auto running = [pieces](std::vector<double>& sums, auto&& term_of) {
        sums.reserve(pieces + 1);
        sums.push_back(0.0);
        double sum = 0.0, lost = 0.0;
        for (std::size_t i = 0; i < pieces; ++i) {
            const double term = term_of(i) - lost, next = sum + term;
            lost = (next - sum) - term;
            sum = next;
            sums.push_back(sum);
        }
    };
    running(volumes_, [&](std::size_t i) {
        const auto& [a, b, c] = areas_[i];
        return (positions_[i + 1] - positions_[i]) * (a + b + c) / 3.0;
    });
    running(moments_, [&](std::size_t i) {
        const auto& [a, b, c] = areas_[i];
        const double wide = positions_[i + 1] - positions_[i];
        return detail::unfused(wide * (volumes_[i] + wide * (detail::unfused(3.0 * a) + 2.0 * b + c) / 12.0));
    });
}

} // namespace tranche
