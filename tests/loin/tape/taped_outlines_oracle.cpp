// That the layers of tape readings tile the face, by the intersections and unions of Boost.Geometry.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <vector>

#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/literals.hpp>

#include "loin/tape/geometry.hpp"
#include "support/catch.hpp"

namespace taped_outlines_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("taped_outlines: layers lie one in the other, and the tail beside them, without gap or overlap") {
    for (const double fill : {0.30, 0.45, 0.62, 0.80, 0.92, 1.0})
        for (const double tail_depth : {0.2, 0.4, 1.0})
            for (const double gluteus_medius : {0.01, 0.3, 0.7}) {
                CAPTURE(fill, tail_depth, gluteus_medius);
                const taped_readings r{.width = 22_cm, .depth = 8_cm, .fat_cover = 12_mm, .tail = 6_cm};
                const face_shape shape{.fill = fill, .tail_depth = tail_depth, .silverskin = 1_mm};
                const face expected = taped_face(r, shape, gluteus_medius);
                const painted_face painted = taped_outlines(r, shape, gluteus_medius);
                REQUIRE(painted.size() == 5);
                std::vector<region> layers;
                for (const painted_outline& p : painted) {
                    layers.push_back(flat(p.curve));
                    CHECK(bg::is_valid(layers.back()));
                }
                const auto shared = [&](std::size_t a, std::size_t b) {
                    region both;
                    bg::intersection(layers[a], layers[b], both);
                    return bg::area(both);
                };
                // Boost.Geometry takes corners for one that meet on a grid of 1e-7 of the box (here 2e-6 cm), which moves
                // edges of up to half a centimetre: the corners of the second muscle lie anywhere among those of the lean.
                constexpr double snapped = 1e-6;
                CHECK_THAT(shared(0, 1), WithinAbs(0.0, snapped));
                for (std::size_t k = 2; k < layers.size(); ++k)
                    CHECK_THAT(shared(k - 1, k), WithinAbs(bg::area(layers[k]), snapped));
                region united;
                bg::union_(layers[0], layers[1], united);
                double all = 0.0;
                for (const tissue t : all_tissues) all += expected.areas[t] / 1_cm2;
                CHECK_THAT(bg::area(united), WithinAbs(all, snapped));
                REQUIRE(united.size() == 1); // one piece, and no holes in it
                // Where the tail has corners on a straight edge of the face, rounding makes rings of three points in a line.
                for (const auto& hole : united[0].inners()) CHECK_THAT(bg::area(hole), WithinAbs(0.0, 1e-14));
            }
}

} // namespace taped_outlines_oracle
