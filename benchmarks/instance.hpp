// What every benchmark plans: one loin of invented measurements and three cuts.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <vector>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_benchmark {

using namespace tranche;
using namespace tranche::literals;

/// A loin of 42 cm; the second muscle starts 8 cm before the sirloin face. Invented.
[[nodiscard]] inline measured_loin taped_loin() {
    return {.length = 42_cm,
            .stations = {{0_cm, 22.0_cm, 7.8_cm, 1.0_cm, 4_cm},
                         {20_cm, 21.0_cm, 7.5_cm, 0.8_cm, 3_cm},
                         {42_cm, 20.0_cm, 7.7_cm, 0.7_cm, 2_cm}},
            .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.35}};
}
[[nodiscard]] inline profile loin_on_grid(length step) { return tabulate(taped_loin(), step); }

/// Steaks, halved fillets without the second muscle, and end steaks with it.
[[nodiscard]] inline std::vector<cut_spec> three_cuts() {
    return {{.name = "steak",
             .thickness = {1_in, 1.5_in},
             .portion = {11_oz, 14_oz},
             .trim = {.fat_cover = 0.25_in, .tail = 1_in}},
            {.name = "halved fillet",
             .thickness = {1.5_in, 2.5_in},
             .portion = {6_oz, 9_oz},
             .pieces = 2,
             .trim = {.fat_cover = 0_mm, .tail = 0_mm},
             .gluteus_medius = no_gluteus_medius},
            {.name = "end steak",
             .thickness = {1_in, 1.5_in},
             .portion = {12_oz, 16_oz},
             .trim = {.fat_cover = 0.25_in, .tail = 1_in},
             .gluteus_medius = any_gluteus_medius}};
}

[[nodiscard]] inline cutting_rules facing_of_8_mm() { return {.facing = 8_mm}; }

} // namespace tranche_benchmark
