// Faces in between known ones, against the interpolation of each of their numbers and the line between spreads.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include <tranche/loin/detail/face_course.hpp>
#include <tranche/loin/tape/detail/monotone.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace face_course_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("faces between known ones have numbers interpolated by themselves and spreads mixed along a line") {
    std::vector<face> faces(4);
    const std::vector<length> places{1_cm, 9_cm, 22_cm, 40_cm};
    for (std::size_t i = 0; i < faces.size(); ++i) {
        const double bend = i == 2 ? 1.3 : 1.0 - 0.1 * static_cast<double>(i);
        faces[i].areas[tissue::eye] = bend * 60_cm2;
        faces[i].areas[tissue::tail] = i > 1 ? 9_cm2 : 0_cm2;
        faces[i].width = bend * 20_cm;
        faces[i].depth = (2.0 - bend) * 8_cm;
        faces[i].tail.thickness = bend * bend * 4_cm;
        faces[i].fat_cover.thickness = bend * 1_cm;
        for (std::size_t k = 0; k < even_spread.size(); ++k)
            faces[i].fat_cover.spread[k] = i % 2 == 0 ? even_spread[k] : std::pow(even_spread[k], bend);
    }
    for (std::size_t count = 1; count <= faces.size(); ++count) {
        const std::vector<face> some(faces.begin(), faces.begin() + static_cast<std::ptrdiff_t>(count));
        const detail::face_course<> course(
            count, [&](std::size_t i) { return places[i]; }, some);
        for (const length& at : {0_cm, 1_cm, 3_cm, 9_cm, 9.4_cm, 14.7_cm, 22_cm, 22.9_cm, 31_cm, 40_cm, 50_cm}) {
            const face f = course.at(at);
            const auto expected = [&](auto number) {
                return detail::monotone_interpolation(
                    count, [&](std::size_t i) { return places[i].value(); },
                    [&](std::size_t i) { return number(some[i]); }, at.value());
            };
            CAPTURE(count, at.value());
            for (const tissue t : all_tissues)
                CHECK(f.areas[t].value() == expected([t](const face& g) { return g.areas[t].value(); }));
            CHECK(f.width.value() == expected([](const face& g) { return g.width.value(); }));
            CHECK(f.fat_cover.thickness.value() ==
                  expected([](const face& g) { return g.fat_cover.thickness.value(); }));
            CHECK(f.depth.value() == expected([](const face& g) { return g.depth.value(); }));
            CHECK(f.tail.thickness.value() == expected([](const face& g) { return g.tail.thickness.value(); }));
            CHECK(f.tail.spread == even_spread);
            std::size_t gap = 0;
            while (gap + 2 < count && at >= places[gap + 1]) ++gap;
            const std::size_t next = std::min(gap + 1, count - 1);
            const double way = next > gap ? double((at - places[gap]) / (places[next] - places[gap])) : 0.0;
            const double part = std::clamp(way, 0.0, 1.0);
            double before = 0.0;
            for (std::size_t k = 0; k < even_spread.size(); ++k) {
                const double from = some[gap].fat_cover.spread[k], to = some[next].fat_cover.spread[k];
                CHECK_THAT(f.fat_cover.spread[k], WithinAbs(from + part * (to - from), 1e-14));
                CHECK(f.fat_cover.spread[k] >= before);
                before = f.fat_cover.spread[k];
            }
        }
    }
}

} // namespace face_course_test
