// Laws of masses that have to be enough as they are written.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>

#include <tranche/packs/net_weight.hpp>

#include "support/catch.hpp"

namespace net_weight_laws {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("text_from_above: writes a whole number of divisions as it is, and more than it as one more") {
    using unit = mass_division::unit;
    for (const mass_division& how : {quarter_ounces, pounds_and_quarter_ounces, hundredths_of_pound, whole_grams,
                                     thousandths_of_kilogram, mass_division{unit::ounces, 16}}) {
        const mass one = how.in == unit::pounds_and_ounces ? 0.25 * ounce : size_of(how);
        for (double k = 1.0; k < 2000.0; ++k) {
            const micrograms m = to_micrograms(k * one), more{m.count + 3};
            CHECK(detail::text_from_above(m, how) == to_text(k * one, how));
            // A batch and a supply are each rounded to whole micrograms, and what is short may be one more.
            for (const mass& supply : {1.0 * ounce, 3.2 * ounce, 1.0 * pound, 7.3 * gram}) {
                const micrograms missing = to_micrograms(supply + k * one) - to_micrograms(supply);
                CHECK(detail::text_from_above(missing, how) == to_text(k * one, how));
            }
            CHECK(detail::text_from_above(more, how) == to_text((k + 1.0) * one, how));
        }
        CHECK(detail::text_from_above({1}, how) == to_text(one, how));
    }
}

} // namespace net_weight_laws
