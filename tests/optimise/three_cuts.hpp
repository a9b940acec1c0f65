// A loin and three cuts for tests against general solvers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_test {

/// Invented measurements of a loin of 42 cm whose second muscle starts 8 cm before the sirloin face.
[[nodiscard]] inline tranche::profile measured_strip(tranche::length step) {
    using namespace tranche;
    using namespace tranche::literals;
    return tabulate(measured_loin{.length = 42_cm,
                                  .stations = {{0_cm, 17.0_cm, 7.2_cm, 1.0_cm, 4_cm},
                                               {20_cm, 15.8_cm, 6.9_cm, 0.8_cm, 3_cm},
                                               {42_cm, 15.0_cm, 7.1_cm, 0.7_cm, 2_cm}},
                                  .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.35}},
                    step);
}

[[nodiscard]] inline std::vector<tranche::cut_spec> three_cuts() {
    using namespace tranche;
    using namespace tranche::literals;
    return {{.name = "steak",
             .thickness = {1_in, 1.5_in},
             .portion = {11_oz, 14_oz},
             .trim = {.fat_cover = 0.25_in, .tail = 1_in}},
            {.name = "fillet",
             .thickness = {1.5_in, 2.5_in},
             .portion = {6_oz, 9_oz},
             .pieces = 2,
             .trim = {.fat_cover = 0_mm, .tail = 0_mm, .silverskin = false},
             .gluteus_medius = no_gluteus_medius,
             .kerf = 1_mm},
            {.name = "end steak",
             .thickness = {0.75_in, 1.5_in},
             .portion = {8_oz, 14_oz},
             .trim = {.fat_cover = 0.25_in, .tail = 1_in},
             .gluteus_medius = any_gluteus_medius}};
}

} // namespace tranche_test
