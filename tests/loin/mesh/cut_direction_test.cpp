// Axes, tilts and frames of a cut.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/cut_direction.hpp>

#include "support/catch.hpp"

#include <cmath>
#include <limits>

namespace cut_direction_test {

using namespace tranche;
using namespace tranche_test;

namespace {
constexpr mesh_axis all_axes[] = {mesh_axis::x,       mesh_axis::y,       mesh_axis::z,
                                  mesh_axis::minus_x, mesh_axis::minus_y, mesh_axis::minus_z};

void check_same(mesh_point a, mesh_point b) {
    const mesh_point difference = a - b;
    CHECK(std::sqrt(detail::dot(difference, difference)) <=
          4e-16); // two roundings in each of three coordinates below 1
}
} // namespace

TEST_CASE("an untilted frame is made of the axes as given") {
    const detail::cut_frame frame = detail::frame_of(mesh_axis::x, mesh_axis::z);
    CHECK(frame.along == mesh_point{1, 0, 0});
    CHECK(frame.up == mesh_point{0, 0, 1});
    CHECK(frame.across == mesh_point{0, 1, 0}); // to the left of someone who looks along x with z up
    CHECK(detail::frame_of(mesh_axis::minus_y, mesh_axis::x).along == mesh_point{0, -1, 0});
}

TEST_CASE("every frame is right-handed with sides of length one") {
    int frames = 0;
    for (const mesh_axis along : all_axes)
        for (const mesh_axis up : all_axes) {
            if (detail::dot(detail::unit_vector(along), detail::unit_vector(up)) != 0.0) {
                CHECK_THROWS_WITH(detail::frame_of(along, up),
                                  StartsWith("up: got an axis parallel to the loin's own"));
                continue;
            }
            ++frames;
            for (const double a : {-30.0, 0.0, 12.0})
                for (const double b : {-7.0, 0.0, 30.0}) {
                    const detail::cut_frame f =
                        detail::frame_of(along, up, {.about_vertical = a * degree, .about_transverse = b * degree});
                    check_same(detail::cross(f.across, f.up), f.along);
                    check_same(detail::cross(f.up, f.along), f.across);
                    CHECK(std::abs(detail::dot(f.along, f.along) - 1.0) <= 1e-15);
                    // The normal leans away from the axis by both angles.
                    CHECK(std::abs(detail::dot(f.along, detail::unit_vector(along)) -
                                   std::cos(a * degree.value()) * std::cos(b * degree.value())) <= 4e-16);
                }
        }
    CHECK(frames == 24);
}

TEST_CASE("tilts turn the face to the left and upwards") {
    const detail::cut_frame swung = detail::frame_of(mesh_axis::x, mesh_axis::z, {.about_vertical = 30.0 * degree});
    check_same(swung.along, {std::sqrt(0.75), 0.5, 0.0});
    check_same(swung.up, {0.0, 0.0, 1.0});
    const detail::cut_frame leaned = detail::frame_of(mesh_axis::x, mesh_axis::z, {.about_transverse = 30.0 * degree});
    check_same(leaned.along, {std::sqrt(0.75), 0.0, 0.5});
    check_same(leaned.across, {0.0, 1.0, 0.0});
}

TEST_CASE("a tilt beyond thirty degrees is refused by field and value") {
    CHECK_NOTHROW(validate(cut_tilt{.about_vertical = 30.0 * degree, .about_transverse = -30.0 * degree}));
    CHECK_THROWS_WITH(validate(cut_tilt{.about_vertical = 31.0 * degree}),
                      Equals("tilt.about_vertical: got 31 degrees, expected -30 to 30 degrees"));
    CHECK_THROWS_WITH(validate(cut_tilt{.about_transverse = -30.5 * degree}),
                      Equals("tilt.about_transverse: got -30.5 degrees, expected -30 to 30 degrees"));
    CHECK_THROWS_WITH(validate(cut_tilt{.about_vertical = std::numeric_limits<double>::quiet_NaN() * degree}),
                      StartsWith("tilt.about_vertical: got nan degrees"));
}

} // namespace cut_direction_test
