// That a loin with one face all along weighs what the closed form says.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace prism_loin_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a prism weighs length by area by density, tissue by tissue, on any grid") {
    const length step = GENERATE(0.5_mm, 7_mm, 33_mm, 100_mm, 1_m);
    const profile meat = tabulate(block(), step, all_of(1_g_per_cm3));
    // 10 cm of 31.2, 8, 4 and 0.8 g/cm (the areas of the block by hand): whole micrograms, so no tolerance.
    CHECK(meat.total(tissue::eye).count == 312'000'000);
    CHECK(meat.total(tissue::gluteus_medius).count == 0);
    CHECK(meat.total(tissue::fat_cover).count == 80'000'000);
    CHECK(meat.total(tissue::tail).count == 40'000'000);
    CHECK(meat.total(tissue::connective).count == 8'000'000);
    CHECK(meat.total().count == 440'000'000);
}

TEST_CASE("each tissue of a prism weighs by its own density") {
    const tissue_densities densities{{1.06_g_per_cm3, 1_g_per_cm3, 0.95_g_per_cm3, 1_g_per_cm3, 1.1_g_per_cm3}};
    const profile meat = tabulate(block(), default_step, densities);
    CHECK(meat.total(tissue::eye).count == 330'720'000);      // 312 g × 1.06
    CHECK(meat.total(tissue::fat_cover).count == 76'000'000); // 80 g × 0.95
    CHECK(meat.total(tissue::connective).count == 8'800'000); // 8 g × 1.1
}

TEST_CASE("an impossible prism is refused by its field") {
    const auto refusal = [](auto change) {
        prism_loin loin = block();
        change(loin);
        return message_of([&] { (void)tabulate(loin); });
    };
    CHECK(refusal([](prism_loin& l) { l.length = 0_mm; }) == "length: got 0 mm, expected a finite value above zero");
    CHECK(refusal([](prism_loin& l) { l.length = length::from_value(not_a_number); }) ==
          "length: got nan mm, expected a finite value above zero");
    CHECK(refusal([](prism_loin& l) { l.length = length::from_value(infinite); }) ==
          "length: got inf mm, expected a finite value above zero");
    CHECK(refusal([](prism_loin& l) { l.face.width = 0_mm; }) ==
          "face.width: got 0 mm, expected a finite value above zero");
    CHECK(refusal([](prism_loin& l) { l.shape.fill = 2.0; }) == "fill: got 2, expected a share, 0 to 1");
    CHECK(refusal([](prism_loin&) {}) == "accepted");
}

} // namespace prism_loin_test
