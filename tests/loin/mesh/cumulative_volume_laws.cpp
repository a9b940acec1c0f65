// Laws of the cumulative volume, on random bodies under random motions, cut in random directions.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/cumulative_volume.hpp>

#include "loin/mesh_cutting.hpp"
#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace cumulative_volume_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

constexpr double epsilon = std::numeric_limits<double>::epsilon();

/// A body that every ray from the origin leaves once: a ball with random dents.
triangle_mesh dented_ball(dice& d) {
    triangle_mesh mesh = ball(0.1, 5 + d.below(20), 4 + d.below(16));
    for (mesh_point& p : mesh.vertices) p = d.between(0.5, 1.0) * p;
    return mesh;
}

mesh_point random_direction(dice& d) {
    const mesh_point v = random_motion(d, 0.0).rows[0];
    return 1.0 / std::sqrt(detail::dot(v, v)) * v;
}

triangle_mesh some_body(dice& d) {
    switch (d.below(4)) {
    case 0: return box(d.between(0.01, 0.2), d.between(0.01, 0.2), d.between(0.01, 0.2));
    case 1: return frustum(3 + d.below(30), d.between(0.02, 0.1), d.between(0.02, 0.1), d.between(0.05, 0.3));
    case 2: return bumpy_loin(8 + d.below(20), 4 + d.below(20));
    default: return dented_ball(d);
    }
}

double lowest(const triangle_mesh& mesh, mesh_point direction) {
    double s = std::numeric_limits<double>::infinity();
    for (const mesh_point& p : mesh.vertices) s = std::min(s, detail::dot(p, direction));
    return s;
}

length metres(double value) { return length::from_value(value); }

} // namespace

// Tolerances. Each of n triangles adds terms that are off by a few ε of the volume of the box around the body, which is at
// most eight times the body here, and the oracle errs likewise: 64 n ε of the volume, if all errors had one sign. A motion
// by at most half a metre moves each vertex by 1e-16 m, that is 1e-14 of the smallest side of 0.01 m: 1e-13 in all.

TEST_CASE("volume and area agree with cutting the mesh plane by plane") {
    dice d(20240501);
    for (int trial = 0; trial < 60; ++trial) {
        const triangle_mesh mesh = random_motion(d, 0.5)(some_body(d));
        const mesh_point direction = random_direction(d);
        const cumulative_volume v(mesh, direction);
        const double whole = v.total().value(), extent = v.extent().value(), from = lowest(mesh, direction);
        const double bound = 64.0 * static_cast<double>(mesh.triangles.size()) * epsilon + 1e-13;
        CAPTURE(trial, mesh.triangles.size());
        for (int k = 0; k < 12; ++k) {
            const double s = d.between(0.0, extent);
            CHECK_THAT(v.volume_before(metres(s)).value(),
                       WithinAbs(clipped_volume(mesh, direction, from + s), bound * whole));
            // A moves with s: by 1e-16 m times its slope, at most the longest chord of a triangle times its width over the
            // distance of two vertices; the bound holds where that is at least 1e-4 of the extent.
            CHECK_THAT(v.area_at(metres(s)).value(),
                       WithinAbs(sliced_area(mesh, direction, from + s), 100.0 * bound * whole / extent));
        }
    }
}

TEST_CASE("volume grows from nothing to the volume of the mesh and never falls") {
    dice d(20240502);
    for (int trial = 0; trial < 60; ++trial) {
        const triangle_mesh mesh = random_motion(d, 0.5)(some_body(d));
        const cumulative_volume v(mesh, random_direction(d));
        const double whole = detail::volume_of(mesh).value();
        const double bound = 64.0 * static_cast<double>(mesh.triangles.size()) * epsilon + 1e-13;
        CHECK(v.volume_before(metres(0.0)).value() == 0.0);
        CHECK(v.volume_before(v.extent()) == v.total()); // to the last bit
        CHECK_THAT(v.total().value(), WithinRel(whole, bound));
        double last = 0.0;
        for (int k = 0; k <= 400; ++k) {
            const double now = v.volume_before(metres(v.extent().value() * k / 400.0)).value();
            CHECK(now >= last - bound * whole);
            last = now;
        }
    }
}

TEST_CASE("turning and shifting mesh and direction together changes no volume") {
    dice d(20240503);
    for (int trial = 0; trial < 40; ++trial) {
        const triangle_mesh mesh = some_body(d);
        const motion m = random_motion(d, 0.5);
        const mesh_point direction = trial % 2 == 0 ? mesh_point{0.0, 0.0, 1.0} : random_direction(d);
        const cumulative_volume here(mesh, direction), there(m(mesh), m.turned(direction));
        const double bound = 64.0 * static_cast<double>(mesh.triangles.size()) * epsilon + 1e-13;
        CHECK_THAT(there.extent().value(), WithinAbs(here.extent().value(), 1e-15));
        for (int k = 1; k <= 20; ++k) {
            const length at = here.extent() * (k / 20.0);
            CHECK_THAT(there.volume_before(at).value(),
                       WithinAbs(here.volume_before(at).value(), bound * here.total().value()));
        }
    }
}

TEST_CASE("from behind, what lay in front lies behind") {
    dice d(20240504);
    for (int trial = 0; trial < 40; ++trial) {
        const triangle_mesh mesh = some_body(d);
        const mesh_point direction = random_direction(d);
        const cumulative_volume forth(mesh, direction), back(mesh, -1.0 * direction);
        const double bound = 64.0 * static_cast<double>(mesh.triangles.size()) * epsilon + 1e-13;
        for (int k = 0; k <= 20; ++k) {
            const length at = forth.extent() * (k / 20.0);
            const double sum = (forth.volume_before(at) + back.volume_before(forth.extent() - at)).value();
            CHECK_THAT(sum, WithinRel(forth.total().value(), bound));
        }
    }
}

TEST_CASE("between two vertices the volume is a cubic and the area its derivative") {
    dice d(20240505);
    for (int trial = 0; trial < 40; ++trial) {
        const triangle_mesh mesh = random_motion(d, 0.5)(some_body(d));
        const cumulative_volume v(mesh, random_direction(d));
        const std::vector<double>& breaks = v.breakpoints();
        const std::size_t i = d.below(breaks.size() - 1);
        const double from = breaks[i], width = breaks[i + 1] - from;
        const auto volume_at = [&](double t) { return v.volume_before(metres(from + t * width)).value(); };
        const auto area_at = [&](double t) { return v.area_at(metres(from + t * width)).value(); };
        // The fourth difference of a cubic is nothing: 16 values of V enter, each off by a few ε of the total, and its
        // own position by ε of the extent times the area.
        const double fourth =
            volume_at(0.1) - 4.0 * volume_at(0.3) + 6.0 * volume_at(0.5) - 4.0 * volume_at(0.7) + volume_at(0.9);
        const double greatest = std::max({area_at(0.1), area_at(0.5), area_at(0.9)});
        const double bound = 64.0 * epsilon * (v.total().value() + v.extent().value() * greatest);
        CHECK(std::abs(fourth) <= bound);
        // Simpson's rule is exact for a quadratic.
        const double integral = 0.8 * width / 6.0 * (area_at(0.1) + 4.0 * area_at(0.5) + area_at(0.9));
        CHECK_THAT(volume_at(0.9) - volume_at(0.1), WithinAbs(integral, bound));
    }
}

TEST_CASE("slabs between parallel oblique planes add up to the mesh") {
    dice d(20240506);
    const triangle_mesh mesh = bumpy_loin(30, 40);
    for (int trial = 0; trial < 10; ++trial) {
        const double a = d.between(-0.5, 0.5), b = d.between(-0.5, 0.5);
        const mesh_point normal{std::cos(a) * std::cos(b), std::sin(a) * std::cos(b), std::sin(b)};
        const cumulative_volume v(mesh, normal);
        double sum = 0.0;
        for (int k = 0; k < 37; ++k)
            sum += (v.volume_before(v.extent() * ((k + 1) / 37.0)) - v.volume_before(v.extent() * (k / 37.0))).value();
        CHECK_THAT(sum, WithinRel(detail::volume_of(mesh).value(), 64.0 * 2500.0 * epsilon));
    }
}

} // namespace cumulative_volume_laws
