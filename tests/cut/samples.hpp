// A loin cut in every way there is, for the tests of plans.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace tranche_test {

/// The strip loin on a grid of 5 mm: 84 cells, the second muscle from 336 mm on.
[[nodiscard]] inline tranche::profile strip_table() {
    using namespace tranche::literals;
    return tranche::tabulate(strip_loin(), 5_mm);
}

/// A steak with trim and kerf, and a thick slab that is halved. Invented.
[[nodiscard]] inline std::vector<tranche::cut_spec> two_cuts() {
    using namespace tranche;
    using namespace tranche::literals;
    return {{.name = "steak",
             .thickness = {20_mm, 40_mm},
             .portion = {200_g, 600_g},
             .trim = {.fat_cover = 6_mm, .tail = 10_mm, .silverskin = false},
             .kerf = 1_mm},
            {.name = "fillet",
             .thickness = {45_mm, 60_mm},
             .portion = {150_g, 400_g},
             .pieces = 2,
             .trim = {.fat_cover = 0_mm, .tail = 0_mm, .silverskin = false},
             .gluteus_medius = any_gluteus_medius}};
}

/// A facing of 10 mm, and two ways to use loose meat. Invented.
[[nodiscard]] inline tranche::cutting_rules two_ways() {
    using namespace tranche;
    using namespace tranche::literals;
    return {.facing = 10_mm,
            .loose = {{}, {.goes_to = destination::strips, .trim = {.fat_cover = 0_mm}, .least_thickness = 15_mm}}};
}

/// Steaks, fillets, loose meat between them and an end.
[[nodiscard]] inline std::vector<tranche::grid_slab> every_way() {
    using tranche::slab_kind;
    return {{2, 8, slab_kind::portions, 0},   {8, 14, slab_kind::portions, 0},  {14, 17, slab_kind::loose, 1},
            {17, 28, slab_kind::portions, 1}, {28, 34, slab_kind::portions, 0}, {34, 40, slab_kind::portions, 0},
            {40, 51, slab_kind::portions, 1}, {51, 62, slab_kind::portions, 1}, {62, 68, slab_kind::portions, 0},
            {68, 84, slab_kind::loose, 0}};
}

} // namespace tranche_test
