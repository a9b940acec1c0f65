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

TEST_CASE("the observed sets of whole numbers come out to all certified digits") {
    // Lew: deflections of a beam. Data and certified values from copies of NIST's file in public repositories, two of which agree and
    // whose values the data fit: -177.435000000000, 277.332168044316.
    const exact_summary beam =
        of(1.0, {-213, -564, -35,  -15,  141,  115,  -420, -360, 203,  -338, -431, 194,  -220, -513, 154,  -125, -559,
                 92,   -21,  -579, -52,  99,   -543, -175, 162,  -457, -346, 204,  -300, -474, 164,  -107, -572, -8,
                 83,   -541, -224, 180,  -420, -374, 201,  -236, -531, 83,   27,   -564, -112, 131,  -507, -254, 199,
                 -311, -495, 143,  -46,  -579, -90,  136,  -472, -338, 202,  -287, -477, 169,  -124, -568, 17,   48,
                 -568, -135, 162,  -430, -422, 172,  -74,  -577, -13,  92,   -534, -243, 194,  -355, -465, 156,  -81,
                 -578, -64,  139,  -449, -384, 193,  -198, -538, 110,  -44,  -577, -6,   66,   -552, -164, 161,  -460,
                 -344, 205,  -281, -504, 134,  -28,  -576, -118, 156,  -437, -381, 200,  -220, -540, 83,   11,   -568,
                 -160, 172,  -414, -408, 188,  -125, -572, -32,  139,  -492, -321, 205,  -262, -504, 142,  -83,  -574,
                 0,    48,   -571, -106, 137,  -501, -266, 190,  -391, -406, 194,  -186, -553, 83,   -13,  -577, -49,
                 103,  -515, -280, 201,  300,  -506, 131,  -45,  -578, -80,  138,  -462, -361, 201,  -211, -554, 32,
                 74,   -533, -235, 187,  -372, -442, 182,  -147, -566, 25,   68,   -535, -244, 194,  -351, -463, 174,
                 -125, -570, 15,   72,   -550, -190, 172,  -424, -385, 198,  -218, -536, 96});
    CHECK(beam.count() == 200);
    CHECK(*beam.mean() == Approx(-177.435).epsilon(1e-15));
    CHECK(*beam.standard_deviation() == Approx(277.332168044316).epsilon(1e-14));

    // Lottery: numbers of three digits. In the same way: 518.958715596330, 291.699727470969.
    const exact_summary lottery =
        of(1.0, {162, 671, 933, 414, 788, 730, 817, 33,  536, 875, 670, 236, 473, 167, 877, 980, 316, 950, 456, 92,
                 517, 557, 956, 954, 104, 178, 794, 278, 147, 773, 437, 435, 502, 610, 582, 780, 689, 562, 964, 791,
                 28,  97,  848, 281, 858, 538, 660, 972, 671, 613, 867, 448, 738, 966, 139, 636, 847, 659, 754, 243,
                 122, 455, 195, 968, 793, 59,  730, 361, 574, 522, 97,  762, 431, 158, 429, 414, 22,  629, 788, 999,
                 187, 215, 810, 782, 47,  34,  108, 986, 25,  644, 829, 630, 315, 567, 919, 331, 207, 412, 242, 607,
                 668, 944, 749, 168, 864, 442, 533, 805, 372, 63,  458, 777, 416, 340, 436, 140, 919, 350, 510, 572,
                 905, 900, 85,  389, 473, 758, 444, 169, 625, 692, 140, 897, 672, 288, 312, 860, 724, 226, 884, 508,
                 976, 741, 476, 417, 831, 15,  318, 432, 241, 114, 799, 955, 833, 358, 935, 146, 630, 830, 440, 642,
                 356, 373, 271, 715, 367, 393, 190, 669, 8,   861, 108, 795, 269, 590, 326, 866, 64,  523, 862, 840,
                 219, 382, 998, 4,   628, 305, 747, 247, 34,  747, 729, 645, 856, 974, 24,  568, 24,  694, 608, 480,
                 410, 729, 947, 293, 53,  930, 223, 203, 677, 227, 62,  455, 387, 318, 562, 242, 428, 968});
    CHECK(lottery.count() == 218);
    CHECK(*lottery.mean() == Approx(518.958715596330).epsilon(1e-14));
    CHECK(*lottery.standard_deviation() == Approx(291.699727470969).epsilon(1e-14));
}

} // namespace reference_sets_test
