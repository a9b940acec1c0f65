// SPDX-License-Identifier: BSL-1.0
#include <tranche/optimise/request_limit.hpp>

#include <cfenv>

#include <tranche/loin/prism_loin.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace request_limit_test {

using namespace tranche;
using namespace tranche::literals;

TEST_CASE("a limit that is not asked for is as wide as can be, and nothing is divided by it") {
    const profile meat = tabulate(prism_loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}}, 5_mm);
    cutting_request request{.specs = {{.name = "steak", .thickness = {25_mm, 38_mm}}}};
    using kind = request_limit::kind;
    const auto look = [&](kind what, bool open) {
        std::feclearexcept(FE_ALL_EXCEPT);
        const detail::wider_values values(meat, request, {what, 0}, {});
        CHECK_FALSE(std::fetestexcept(FE_DIVBYZERO | FE_INVALID));
        CHECK((values.count() > 0) == open);
        CHECK(values.one_step().has_value() == open);
    };
    for (const kind what : {kind::thickness_step, kind::one_thickness, kind::order, kind::pieces}) look(what, false);
    request.specs[0].thickness_step = 5_mm;
    request.specs[0].one_thickness = true;
    for (const kind what : {kind::thickness_step, kind::one_thickness}) look(what, true);
}

} // namespace request_limit_test
