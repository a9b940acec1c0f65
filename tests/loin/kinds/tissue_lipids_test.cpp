// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/kinds/tissue_lipids.hpp>

#include <tranche/loin/kinds/known_compositions.hpp>

#include "support/catch.hpp"

namespace tissue_lipids_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("lipids_of: gives the fat of the USDA analyses to lean and cover") {
    // USDA SR28, read in the source: beef strip, separable lean, all grades 5.67 g in 100 g; beef separable fat 70.89.
    const tissue_lipids lipids = lipids_of(beef_strip_lean, beef_separable_fat);
    CHECK(lipids[tissue::eye] == 0.0567);
    CHECK(lipids[tissue::gluteus_medius] == 0.0567);
    CHECK(lipids[tissue::connective] == 0.0567);
    CHECK(lipids[tissue::fat_cover] == 0.7089);
    // Half and half is an assumption, common practice, no source: 38.28 % computed.
    CHECK_THAT(lipids[tissue::tail], WithinAbs(0.3828, 1e-12));
}

TEST_CASE("lipids_of: names the composition that cannot be") {
    composition odd = beef_separable_fat;
    odd.fat = 1.2;
    CHECK_THROWS_WITH(lipids_of(beef_strip_lean, odd), StartsWith("fat.fat: got 1.2"));
    CHECK_THROWS_WITH(lipids_of(composition{}, beef_separable_fat), StartsWith("lean.sum of the shares: got 0"));
}

} // namespace tissue_lipids_test
