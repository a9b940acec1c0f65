// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/detail/round_step.hpp>

#include "support/catch.hpp"

namespace round_step_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("steps of an axis are one, two or five times a power of ten") {
    CHECK(detail::round_step(0.3) == 0.5);
    CHECK(detail::round_step(1.0) == 1.0);
    CHECK(detail::round_step(1.01) == 2.0);
    CHECK(detail::round_step(51.0) == 100.0);
    CHECK_THAT(detail::round_step(0.0021), WithinRel(0.005, 1e-12));
    CHECK(detail::round_step(0.0) == 1.0);
    CHECK(detail::round_step(-3.0) == 1.0);
}

} // namespace round_step_test
