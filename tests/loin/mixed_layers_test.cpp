// Layers that are made of several.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/detail/mixed_layers.hpp>

#include <algorithm>

#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace mixed_layers_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a mixture of two even layers has of each what lies within the depth") {
    detail::layer_mixer mixer;
    mixer.add({.thickness = 8_mm}, 3.0);
    mixer.add({.thickness = 16_mm}, 1.0);
    const layer mixed = mixer.mixed();
    CHECK(mixed.thickness == 16_mm);
    // 16 mm over 32 entries: each whole millimetre is one of them.
    for (const double d : {0.0, 1.0, 4.0, 8.0, 12.0, 16.0})
        CHECK_THAT(mixed.within(d * 1_mm), WithinAbs((3.0 * std::min(1.0, d / 8.0) + d / 16.0) / 4.0, 1e-12));
    CHECK(mixed.within(20_mm) == 1.0);
}

TEST_CASE("layers that are all the same give themselves") {
    detail::layer_mixer mixer;
    layer uneven{.thickness = 9_mm};
    uneven.spread[3] = uneven.spread[4];
    for (const double amount : {0.3, 0.1, 0.7}) mixer.add(uneven, amount);
    mixer.add({.thickness = 30_mm}, 0.0); // nothing of it
    CHECK(mixer.mixed().thickness == 9_mm);
    CHECK(mixer.mixed().spread == uneven.spread);
}

TEST_CASE("of nothing there is no layer") {
    CHECK(detail::layer_mixer{}.mixed().thickness == length{});
    CHECK(detail::layer_mixer{}.mixed().within(1_mm) == 1.0);
}

} // namespace mixed_layers_test
