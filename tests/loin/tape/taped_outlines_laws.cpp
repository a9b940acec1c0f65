// Whatever the readings: the face that is drawn has the sizes and areas that were read, to the last digits.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <random>
#include <string>

#include <tranche/loin/models/doubts.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/literals.hpp>

#include "loin/seen_areas.hpp"
#include "support/catch.hpp"

namespace taped_outlines_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct drawn_face {
    taped_readings readings{};
    face_shape shape{};
    fraction gluteus_medius = 0.0;
};

class generator {
public:
    [[nodiscard]] double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(random_()) / 4294967295.0);
    }
    /// Every reading in turn is at one of its ends, too.
    [[nodiscard]] drawn_face next() {
        drawn_face f;
        f.readings = {.width = between(8, 30) * centimetre, .depth = between(2, 12) * centimetre};
        f.readings.tail = round_ % 5 == 0 ? length{} : between(0.02, 0.6) * f.readings.width;
        f.readings.fat_cover =
            round_ % 4 == 0 ? length{} : between(0.01, round_ % 7 == 0 ? 0.9 : 0.35) * f.readings.depth;
        f.shape = {.fill = round_ % 9 == 0 ? 1.0 : between(round_ % 3 == 0 ? 0.3 : 0.6, 1.0),
                   .tail_depth = round_ % 8 == 0 ? 1.0 : between(0.05, 0.9),
                   .silverskin = round_ % 2 == 0 ? length{} : 0.02 * f.readings.depth};
        f.gluteus_medius = round_ % 6 == 0 ? 0.0 : round_ % 13 == 0 ? 1.0 : std::pow(between(0.02, 1.0), 2.0);
        ++round_;
        return f;
    }

private:
    std::mt19937 random_{11};
    int round_ = 0;
};

} // namespace

TEST_CASE("taped_outlines: every tissue has the area of the readings") {
    generator generated;
    for (int round = 0; round < 150; ++round) {
        const auto [readings, shape, gluteus_medius] = generated.next();
        CAPTURE(round, readings.width.value(), readings.depth.value(), readings.fat_cover.value(),
                readings.tail.value(), shape.fill, shape.tail_depth, gluteus_medius);
        const face expected = taped_face(readings, shape, gluteus_medius);
        const by_tissue<double> seen = seen_areas(taped_outlines(readings, shape, gluteus_medius));
        double all = 0.0;
        for (const tissue t : all_tissues) all += expected.areas[t].value();
        for (const tissue t : all_tissues) CHECK_THAT(seen[t], WithinAbs(expected.areas[t].value(), 1e-11 * all));
    }
}

TEST_CASE("taped_outlines: width, depth, tail and the cover over the middle are as read") {
    generator generated;
    for (int round = 0; round < 150; ++round) {
        const auto [readings, shape, gluteus_medius] = generated.next();
        CAPTURE(round, shape.fill, shape.tail_depth, readings.tail / readings.width);
        const double width = readings.width.value(), depth = readings.depth.value();
        double left = 1.0, right = 0.0, low = 1.0, high = 0.0, body = 0.0, lean = 0.0;
        for (const painted_outline& p : taped_outlines(readings, shape, gluteus_medius)) {
            const detail::flat_region region(p.curve);
            const auto [from, to] = region.extent(&detail::flat_point::x);
            const auto [bottom, top] = region.extent(&detail::flat_point::y);
            left = std::min(left, from), right = std::max(right, to);
            low = std::min(low, bottom), high = std::max(high, top);
            if (p.fill == tissue::fat_cover) body = to;
            if (p.fill == tissue::eye)
                lean = region.chords(0.5 * (readings.width - readings.tail).value() * (1.0 + 1e-12)).back().second;
        }
        CHECK_THAT(left, WithinAbs(0.0, 1e-12));
        CHECK_THAT(right, WithinAbs(width, 1e-12));
        CHECK(low == 0.0);
        CHECK_THAT(high, WithinAbs(depth, 1e-12));
        if (body > 0.0) CHECK_THAT(body, WithinAbs((readings.width - readings.tail).value(), 1e-12));
        CHECK_THAT(depth - lean, WithinAbs((readings.fat_cover + shape.silverskin).value(), 1e-11));
    }
}

TEST_CASE("taped_outlines: no outline crosses itself") {
    generator generated;
    for (int round = 0; round < 40; ++round) {
        const auto [readings, shape, gluteus_medius] = generated.next();
        CAPTURE(round, shape.fill, shape.tail_depth, gluteus_medius);
        for (const painted_outline& p : taped_outlines(readings, shape, gluteus_medius))
            CHECK_NOTHROW(detail::require_simple(detail::flat_region(p.curve).rings(), std::string(name_of(p.fill))));
    }
}

TEST_CASE("taped_outlines: no end is drawn as a hair, however little the face fills") {
    for (double fill = 0.3; fill < 1.0; fill += 0.01) {
        CAPTURE(fill);
        const detail::half_face half = detail::half_of(fill);
        REQUIRE(half.height.size() > 10);
        for (std::size_t i = 0; i + 1 < half.height.size(); ++i) {
            CHECK(half.height[i] > 5e-5); // 4 um of 8 cm; brought to the area, which may take a part of it
            CHECK(half.place[i + 1] - half.place[i] > 1e-6);
        }
    }
}

TEST_CASE("taped_outlines: of fills that raise no doubt none has a wall of a millimetre") {
    generator generated;
    for (int round = 0; round < 150; ++round) {
        auto [readings, shape, gluteus_medius] = generated.next();
        shape.fill = std::min(shape.fill, detail::usual_fill.max);
        CAPTURE(round, readings.width.value(), readings.depth.value(), shape.fill, shape.tail_depth);
        for (const painted_outline& p : taped_outlines(readings, shape, gluteus_medius)) {
            const auto& points = p.curve.points;
            for (std::size_t i = 0; i < points.size(); ++i) {
                const outline_point a = points[i], b = points[(i + 1) % points.size()];
                if (std::abs((b.across - a.across).value()) > 1e-6) continue;
                CHECK(std::abs((b.up - a.up).value()) < 0.001);
            }
        }
    }
}

TEST_CASE("taped_outlines: the second muscle grows with its share, and loses no place that it had") {
    const taped_readings readings{.width = 22_cm, .depth = 8_cm, .fat_cover = 12_mm, .tail = 5_cm};
    detail::flat_region smaller;
    for (const double share : {1e-4, 0.001, 0.01, 0.05, 0.1, 0.2, 0.3, 0.45, 0.6, 0.8, 0.95, 1.0}) {
        const painted_face painted = taped_outlines(readings, {}, share);
        const detail::flat_region larger(painted.back().curve);
        for (const detail::flat_ring& ring : smaller.rings())
            for (const detail::flat_point& p : ring) {
                CAPTURE(share, p.x, p.y);
                const bool inside = larger.contains(p) || larger.distance_to_edge(p) < 1e-4; // polygons cut corners
                CHECK(inside);
            }
        smaller = larger;
    }
}

} // namespace taped_outlines_laws
