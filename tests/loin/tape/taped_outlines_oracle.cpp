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
    for (const double fill : {0.45, 0.62, 0.80, 0.92, 1.0})
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
                CHECK_THAT(shared(0, 1), WithinAbs(0.0, 1e-7)); // Boost.Geometry snaps corners that nearly meet
                for (std::size_t k = 2; k < layers.size(); ++k)
                    CHECK_THAT(shared(k - 1, k), WithinAbs(bg::area(layers[k]), 1e-7));
                region united;
                bg::union_(layers[0], layers[1], united);
                double all = 0.0;
                for (const tissue t : all_tissues) all += expected.areas[t] / 1_cm2;
                CHECK_THAT(bg::area(united), WithinAbs(all, 1e-7));
                REQUIRE(united.size() == 1); // one piece, and no holes in it
                CHECK(united[0].inners().empty());
            }
}

} // namespace taped_outlines_oracle
