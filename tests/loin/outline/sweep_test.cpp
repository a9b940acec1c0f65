// The sweep over curves on a face: areas between sides and arcs by closed forms.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include <tranche/loin/outline/detail/near_lean.hpp>
#include <tranche/loin/outline/detail/sweep.hpp>

#include "support/catch.hpp"

namespace sweep_test {

using namespace tranche;
using namespace tranche_test;
using detail::flat_point, detail::met_side, detail::area_between;
using outline_sweep = detail::outline_sweep<>;

namespace {

constexpr double pi = std::numbers::pi;

/// A circle in two halves.
void add_circle(outline_sweep& sweep, flat_point centre, double radius, int group) {
    const flat_point left{centre.x - radius, centre.y}, right{centre.x + radius, centre.y};
    sweep.add({.from = left, .to = right, .group = group, .radius = -radius, .centre = centre});
    sweep.add({.from = right, .to = left, .group = group, .radius = radius, .centre = centre});
}

/// The area that lies inside the curves of `wanted` of the first four groups at once, and in no other.
double area_in(outline_sweep sweep, std::vector<bool> wanted) {
    double sum = 0.0;
    sweep.columns([&](double left, double right, const std::vector<met_side>& sides) {
        std::vector<bool> in(wanted.size());
        for (std::size_t k = 0; k + 1 < sides.size(); ++k) {
            const auto group = static_cast<std::size_t>(sides[k].side->group);
            in[group] = !in[group];
            if (in == wanted) sum += area_between(left, right, sides[k], sides[k + 1]);
        }
    });
    return sum;
}

} // namespace

TEST_CASE("a sweep finds the area of a circle of two arcs, whatever else cuts it into columns") {
    outline_sweep alone;
    add_circle(alone, {0.3, -0.2}, 0.7, 0);
    CHECK_THAT(area_in(alone, {true}), WithinRel(pi * 0.49, 1e-14));
    outline_sweep cut = alone;
    for (int i = 0; i < 40; ++i) { // uprights, which are nothing but places
        const double x = -0.5 + 0.037 * i;
        cut.add({.from = {x, 0.0}, .to = {x, 1.0}});
    }
    CHECK_THAT(area_in(cut, {true}), WithinRel(pi * 0.49, 1e-14));
}

TEST_CASE("a sweep finds what two circles have in common") {
    // Of circles of radius r whose middles lie d apart: 2 r² acos(d / 2 r) - d √(4 r² - d²) / 2 (MathWorld, circle-circle
    // intersection, from memory).
    for (const double turn : {0.0, 0.4, 1.2, 2.6}) {
        const double r = 0.5, d = 0.6;
        outline_sweep sweep;
        add_circle(sweep, {0.1, 0.2}, r, 0);
        add_circle(sweep, {0.1 + d * std::cos(turn), 0.2 + d * std::sin(turn)}, r, 1);
        const double lens = 2.0 * r * r * std::acos(d / (2.0 * r)) - 0.5 * d * std::sqrt(4.0 * r * r - d * d);
        CAPTURE(turn);
        CHECK_THAT(area_in(sweep, {true, true}), WithinRel(lens, 1e-13));
        CHECK_THAT(area_in(sweep, {true, false}), WithinRel(pi * r * r - lens, 1e-13));
    }
}

TEST_CASE(
    "a sweep finds the segment that a line cuts off a circle, where it crosses one half of it twice and where both") {
    for (const double turn : {0.1, 0.7, 1.5707, 2.4, 3.0}) {
        for (const double off : {-0.45, -0.1, 0.0, 0.3, 0.499}) {
            outline_sweep sweep;
            const double r = 0.5;
            add_circle(sweep, {0.2, 0.1}, r, 0);
            // A square of side 4 whose one side lies `off` from the middle.
            const double x = std::cos(turn), y = std::sin(turn);
            const auto place = [&](double along, double across) -> flat_point {
                return {0.2 + along * x - across * y, 0.1 + along * y + across * x};
            };
            sweep.add({place(-2, off), place(2, off), place(2, off + 4), place(-2, off + 4)}, 1);
            CAPTURE(turn, off);
            const double segment = r * r * std::acos(off / r) - off * std::sqrt(r * r - off * off);
            CHECK_THAT(area_in(sweep, {true, true}), WithinAbs(segment, 1e-14));
        }
    }
}

TEST_CASE("a ring moved outwards has the area of the ring, its strips and one circle") {
    // Steiner's formula for convex bodies: A + P d + pi d².
    const detail::flat_ring triangle{{0, 0}, {3, 0}, {3, 4}}, other_way(triangle.rbegin(), triangle.rend());
    for (const double d : {0.01, 0.5, 3.0})
        for (const detail::flat_ring& ring : {triangle, other_way}) {
            outline_sweep sweep;
            detail::moved_ring<>(ring).add_to(sweep, d, 0, false);
            CHECK_THAT(area_in(sweep, {true}), WithinRel(6.0 + 12.0 * d + pi * d * d, 1e-13));
        }
    outline_sweep chords; // of 15 degrees at most: at least 24 in all
    detail::moved_ring<>(triangle).add_to(chords, 0.5, 0, true);
    const double painted = area_in(chords, {true}), sectors = 0.25 * pi;
    CHECK(painted < 12.0 + sectors);
    CHECK(painted > 12.0 + sectors * std::sin(pi / 12) / (pi / 12));
}

} // namespace sweep_test
