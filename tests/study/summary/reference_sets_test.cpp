// The univariate sets of NIST's Statistical Reference Datasets, as whole numbers of their last digit.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/summary/exact_summary.hpp>

#include <cstdint>
#include <vector>

#include "support/catch.hpp"

namespace reference_sets_test {

using namespace tranche;
using namespace tranche_test;

exact_summary of(double unit, const std::vector<std::int64_t>& values) {
    exact_summary summary({"y", unit, 1});
    for (const std::int64_t value : values) summary.add(value);
    return summary;
}

/// `middle`, then one less and one more 500 times.
std::vector<std::int64_t> wobbling(std::int64_t middle) {
    std::vector<std::int64_t> values{middle};
    for (int i = 0; i < 500; ++i) {
        values.push_back(middle - 1);
        values.push_back(middle + 1);
    }
    return values;
}

TEST_CASE("means and deviations of the constructed sets are exact") {
    // NIST StRD, univariate, NumAcc1 to NumAcc4: 10000001, 10000003, 10000002; and 1.2, 1000000.2, 10000000.2, then pairs of a tenth
    // less and a tenth more. Certified as exact: mean the first (NumAcc1 10000002), deviation 1 and 0.1.
    const exact_summary first = of(1.0, {10'000'001, 10'000'003, 10'000'002});
    CHECK(*first.mean() == 10'000'002.0);
    CHECK(*first.standard_deviation() == 1.0);
    for (const std::int64_t middle : {std::int64_t{12}, std::int64_t{10'000'002}, std::int64_t{100'000'002}}) {
        const exact_summary s = of(0.1, wobbling(middle));
        CHECK(*s.mean() == Approx(static_cast<double>(middle) / 10.0).epsilon(1e-15));
        CHECK(*s.standard_deviation() == Approx(0.1).epsilon(1e-15));
    }
}

TEST_CASE("the measured sets come out to all certified digits") {
    // Michelso: speed of light in air (Michelson 1879) in km/s, less 299,000. Certified in Mm/s: 299.852400000000, 0.0790105478190518.
    std::vector<std::int64_t> speeds{
        850, 740, 900, 1070, 930, 850, 950, 980, 980, 880, 1000, 980, 930, 650, 760, 810, 1000, 1000, 960, 960,
        960, 940, 960, 940,  880, 800, 850, 880, 900, 840, 830,  790, 810, 880, 880, 830, 800,  790,  760, 800,
        880, 880, 880, 860,  720, 720, 620, 860, 970, 950, 880,  910, 850, 870, 840, 840, 850,  840,  840, 840,
        890, 810, 810, 820,  800, 770, 760, 740, 750, 760, 910,  920, 890, 860, 880, 720, 840,  850,  850, 780,
        890, 840, 780, 810,  760, 810, 790, 810, 820, 850, 870,  870, 810, 740, 810, 940, 950,  800,  810, 870};
    for (std::int64_t& speed : speeds) speed += 299'000;
    const exact_summary light = of(1e-3, speeds);
    CHECK(light.count() == 100);
    CHECK(*light.mean() == Approx(299.852400000000).epsilon(1e-15));
    CHECK(*light.standard_deviation() == Approx(0.0790105478190518).epsilon(1e-14));

    // Mavro: transmittance of a filter, in units of 0.0001, less 2.0000. Certified: 2.00185600000000, 0.000429123454003053.
    std::vector<std::int64_t> transmittances{18, 17, 18, 19, 18, 17, 15, 14, 15, 15, 17, 18, 18, 19, 19, 21, 20,
                                             16, 14, 13, 13, 15, 15, 16, 15, 14, 13, 14, 15, 14, 15, 16, 15, 16,
                                             19, 20, 20, 21, 22, 23, 24, 25, 27, 26, 26, 26, 27, 26, 25, 24};
    for (std::int64_t& transmittance : transmittances) transmittance += 20'000;
    const exact_summary filter = of(1e-4, transmittances);
    CHECK(filter.count() == 50);
    CHECK(*filter.mean() == Approx(2.00185600000000).epsilon(1e-15));
    CHECK(*filter.standard_deviation() == Approx(0.000429123454003053).epsilon(1e-14));
}

} // namespace reference_sets_test
