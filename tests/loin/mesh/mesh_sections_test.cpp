// Sections of bodies whose sections are known, cut anywhere and through their corners.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/cumulative_volume.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/mesh_sections.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace mesh_sections_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr double pi = std::numbers::pi;

const detail::cut_frame upright{}; // across x, up y, along z
const detail::cut_frame sideways{.across = {0, 1, 0}, .up = {0, 0, 1}, .along = {1, 0, 0}};

/// A few roundings of coordinates of at most a metre, over areas of a square centimetre and more.
constexpr double roundings = 1e-11;

/// Area of a regular polygon by its corners and the radius around them.
double polygon(std::size_t corners, double radius) {
    const auto n = static_cast<double>(corners);
    return n / 2.0 * std::sin(2.0 * pi / n) * radius * radius;
}

double total_area(const std::vector<outline>& outlines) {
    double sum = 0.0;
    for (const outline& curve : outlines) sum += area_of(curve).value();
    return sum;
}

detail::cut_frame frame_along(mesh_point direction) {
    const double size = std::sqrt(detail::dot(direction, direction));
    detail::cut_frame frame{.along = 1.0 / size * direction};
    std::tie(frame.across, frame.up) = detail::plane_of(frame.along);
    return frame;
}

} // namespace

TEST_CASE("mesh_sections: a box is cut into its rectangle from the first vertex to the last") {
    const mesh_sections sections(box(0.160, 0.070, 0.4), upright);
    CHECK_THAT(sections.extent().value(), WithinRel(0.4, 1e-15));
    for (const length& at : {0_mm, 1_mm, 200_mm, sections.extent()}) {
        const auto rings = sections.rings_at(at);
        REQUIRE(rings.size() == 1);
        // Against the clock, once around all four edges along z and the diagonals of the four sides.
        CHECK_THAT(detail::signed_area(rings[0]), WithinRel(0.160 * 0.070, 1e-14));
        const detail::flat_region region(sections.outlines_at(at).at(0));
        CHECK_THAT(region.extent(&detail::flat_point::x).second, WithinRel(0.160, 1e-14));
        CHECK_THAT(region.extent(&detail::flat_point::y).second, WithinRel(0.070, 1e-14));
    }
    CHECK(sections.outlines_at(-1_mm).empty());
    CHECK(sections.outlines_at(401_mm).empty());
}

TEST_CASE("mesh_sections: a cube across its diagonal shows triangles and a hexagon") {
    // Across the space diagonal of a cube of side a: at a third of it, through three corners, a triangle of area √3/2 a²; in
    // the middle a regular hexagon of area 3√3/4 a² (elementary geometry).
    const double a = 0.1;
    const mesh_sections sections(box(a, a, a), frame_along({1, 1, 1}));
    const length whole = sections.extent();
    CHECK_THAT(whole.value(), WithinRel(a * std::sqrt(3.0), 1e-14));
    CHECK_THAT(total_area(sections.outlines_at(whole / 3.0)), WithinRel(std::sqrt(3.0) / 2.0 * a * a, roundings));
    CHECK_THAT(total_area(sections.outlines_at(whole / 2.0)), WithinRel(3.0 * std::sqrt(3.0) / 4.0 * a * a, roundings));
    CHECK(sections.outlines_at(0_mm).empty()); // a corner alone has no area
    CHECK(sections.outlines_at(whole).empty());
}

TEST_CASE("mesh_sections: prisms and frustums show regular polygons") {
    for (const std::size_t corners : {std::size_t{3}, std::size_t{4}, std::size_t{7}, std::size_t{64}})
        for (const double r1 : {0.08, 0.05, 0.02}) {
            const mesh_sections sections(frustum(corners, 0.08, r1, 0.3), upright);
            for (const double t : {0.0, 0.25, 0.5, 0.99, 1.0})
                CHECK_THAT(total_area(sections.outlines_at(t * sections.extent())),
                           WithinRel(polygon(corners, 0.08 + t * (r1 - 0.08)), roundings));
        }
}

TEST_CASE("mesh_sections: a ball shows its parallels and, through the poles, its meridians") {
    const std::size_t slices = 24, stacks = 20;
    const mesh_sections along_axis(ball(0.1, slices, stacks), upright);
    for (std::size_t k = 1; k < stacks; ++k) { // at the parallels themselves, on a whole ring of vertices
        const double polar = pi * static_cast<double>(k) / stacks;
        const length at = length::from_value(0.1 - 0.1 * std::cos(polar));
        CHECK_THAT(total_area(along_axis.outlines_at(at)), WithinRel(polygon(slices, 0.1 * std::sin(polar)), 1e-9));
    }
    // Through both poles and two meridians: twenty sides on either of them, so a regular polygon of 40 corners.
    const mesh_sections across_axis(ball(0.1, slices, stacks), sideways);
    const auto through = across_axis.outlines_at(0.5 * across_axis.extent());
    REQUIRE(through.size() == 1);
    CHECK_THAT(total_area(through), WithinRel(polygon(2 * stacks, 0.1), roundings));
}

TEST_CASE("mesh_sections: a ring shows a hole from above and two discs from the side") {
    const double middle = 0.08, radius = 0.03;
    const std::uint32_t slices = 32, stacks = 16;
    const triangle_mesh mesh = torus(middle, radius, slices, stacks);
    REQUIRE(faults_of(mesh).closed());
    const mesh_sections flat(mesh, upright);
    const auto annulus = flat.outlines_at(0.5 * flat.extent()); // through the vertices that stand farthest in and out
    REQUIRE(annulus.size() == 1);
    REQUIRE(annulus[0].holes.size() == 1);
    CHECK_THAT(total_area(annulus),
               WithinRel(polygon(slices, middle + radius) - polygon(slices, middle - radius), roundings));
    const mesh_sections standing(mesh, sideways);
    const auto discs = standing.outlines_at(0.5 * standing.extent()); // through the axis, along two discs of vertices
    REQUIRE(discs.size() == 2);
    CHECK(discs[0].holes.empty());
    CHECK_THAT(total_area(discs), WithinRel(2.0 * polygon(stacks, radius), roundings));
    // Where the plane touches the inner side from within, both are still one.
    CHECK(standing.outlines_at(length::from_value(0.5 * radius)).size() == 1);
}

TEST_CASE("mesh_sections: at a step the section is that behind it") {
    const auto at_radius = [](double z, double r) { return ring(12, z, [r](double) { return r; }); };
    const triangle_mesh stepped =
        tube({at_radius(0.0, 0.05), at_radius(0.1, 0.05), at_radius(0.1, 0.03), at_radius(0.2, 0.03)}, {0, 0, 0},
             {0, 0, 0.2});
    const mesh_sections sections(stepped, upright);
    const cumulative_volume volumes(stepped, {0, 0, 1});
    CHECK_THAT(total_area(sections.outlines_at(99.999_mm)), WithinRel(polygon(12, 0.05), roundings));
    CHECK_THAT(total_area(sections.outlines_at(100_mm)), WithinRel(polygon(12, 0.03), roundings));
    CHECK_THAT(volumes.area_at(100_mm).value(), WithinRel(polygon(12, 0.03), roundings));
}

TEST_CASE("mesh_sections: hollows are holes of the part that they lie in") {
    // Two boxes side by side, the second with two hollows, in one of which lies a kernel.
    triangle_mesh mesh = together(box(0.05, 0.05, 0.1), moved(box(0.2, 0.1, 0.1), {0.1, 0, 0}));
    mesh = together(mesh, moved(box(0.05, 0.05, 0.05), {0.12, 0.02, 0.02}), true);
    mesh = together(mesh, moved(box(0.01, 0.01, 0.05), {0.14, 0.04, 0.02}));
    mesh = together(mesh, moved(box(0.02, 0.02, 0.05), {0.22, 0.02, 0.02}), true);
    REQUIRE(faults_of(mesh).closed());
    const auto outlines = mesh_sections(mesh, upright).outlines_at(40_mm);
    REQUIRE(outlines.size() == 3);
    CHECK(outlines[0].holes.size() == 2);
    CHECK(outlines[1].holes.empty());
    CHECK(outlines[2].holes.empty());
    CHECK_THAT(total_area(outlines),
               WithinRel(0.05 * 0.05 + 0.2 * 0.1 - 0.05 * 0.05 + 0.01 * 0.01 - 0.02 * 0.02, roundings));
}

TEST_CASE("mesh_sections: a part that is inside out outside of all meat is left out") {
    const triangle_mesh mesh = together(box(0.1, 0.1, 0.1), moved(box(0.02, 0.02, 0.02), {0.2, 0, 0}), true);
    REQUIRE(faults_of(mesh).stray_hollows.count == 1); // `validate` refuses it
    const auto outlines = mesh_sections(mesh, upright).outlines_at(10_mm);
    REQUIRE(outlines.size() == 1);
    CHECK_THAT(total_area(outlines), WithinRel(0.01, roundings));
}

TEST_CASE("mesh_sections: a frame that points the other way across gives the mirror image") {
    const triangle_mesh mesh = bumpy_loin(24, 10);
    const detail::cut_frame left = detail::frame_of(mesh_axis::x, mesh_axis::z);
    detail::cut_frame right = left;
    right.across = -1.0 * left.across;
    const mesh_sections here(mesh, left), there(mesh, right);
    const auto one = here.outlines_at(100_mm), other = there.outlines_at(100_mm);
    REQUIRE(one.size() == 1);
    REQUIRE(other.size() == 1);
    CHECK_THAT(detail::signed_area(there.rings_at(100_mm)[0]), WithinRel(area_of(one[0]).value(), roundings));
    const detail::flat_region a(one[0]), b(other[0]);
    const double width = here.greatest_width().value();
    CHECK_THAT(a.extent(&detail::flat_point::x).first + b.extent(&detail::flat_point::x).second,
               WithinRel(width, 1e-13));
    CHECK_THAT(a.extent(&detail::flat_point::y).first, WithinAbs(b.extent(&detail::flat_point::y).first, 1e-15));
}

} // namespace mesh_sections_test
