// Less than a job, for ways whose compiler flags are those of another way: the mass of a loin. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin.hpp>
#include <tranche/units/literals.hpp>
#include <tranche/version.hpp>

const tranche::version_number* version_where_the_job_is_done();

/// None unless a profile weighs something.
const tranche::version_number* version_where_the_job_is_done() {
    using namespace tranche;
    using namespace tranche::literals;
    const prism_loin loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}};
    return to_mass(tabulate(loin, 1_mm).total()) > 1_kg ? &version : nullptr;
}
