// Exact sums, extremes and histograms, and that parts merge to the whole.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/summary/exact_summary.hpp>

#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include <tranche/study/random/random_stream.hpp>

#include "support/catch.hpp"

namespace exact_summary_test {

using namespace tranche;
using namespace tranche_test;

exact_summary of(const study_output& output, const std::vector<std::int64_t>& values) {
    exact_summary summary(output);
    for (const std::int64_t value : values) summary.add(value);
    return summary;
}

TEST_CASE("a summary counts values, extremes and what is missing") {
    const exact_summary s = of({"portions", 1.0, 1}, {15, 16, no_output, 15, 17});
    CHECK(s.count() == 4);
    CHECK(s.missing() == 1);
    CHECK(s.least() == 15.0);
    CHECK(s.most() == 17.0);
    CHECK(s.mean() == 15.75);
    CHECK(*s.variance() == Approx(2.75 / 3.0));
    CHECK(s.histogram() == std::vector<histogram_bin>{{15, 15, 2}, {16, 16, 1}, {17, 17, 1}});
}

TEST_CASE("too few values have no mean or no spread") {
    const exact_summary none({"x"});
    CHECK_FALSE(none.mean());
    CHECK_FALSE(none.least());
    CHECK_FALSE(none.variance());
    const exact_summary one = of({"x"}, {7});
    CHECK(one.mean() == 7.0);
    CHECK_FALSE(one.standard_deviation());
}

TEST_CASE("sums do not overflow where values are as large as they may be") {
    exact_summary s({"x", 1.0, most_of_output});
    for (int i = 0; i < 1000; ++i) {
        s.add(most_of_output);
        s.add(-most_of_output);
    }
    for (int doubled = 0; doubled < 20; ++doubled) s.merge(exact_summary(s)); // 2 × 10^9 values
    CHECK(s.count() == 2000ULL << 20U);
    CHECK(s.mean() == 0.0);
    CHECK(*s.standard_deviation() == Approx(std::ldexp(1.0, 47)));
    s.merge(s);
    CHECK(s.count() == 2000ULL << 21U);
    CHECK_THROWS_WITH(s.merge(s), "summary of x: got more than 2^32 values, expected fewer replicates");
    CHECK(s.count() == 2000ULL << 21U);
}

TEST_CASE("negative whole numbers fall into the bins below zero") {
    const exact_summary s = of({"difference", 0.01, 10}, {-1, 0, 9, 10, -10, -11});
    CHECK(s.histogram() == std::vector<histogram_bin>{{-20, -11, 1}, {-10, -1, 2}, {0, 9, 2}, {10, 19, 1}});
    CHECK(*s.mean() == Approx(-0.03 / 6.0));
}

TEST_CASE("a value falls into the bin that whole-number division says, at both ends of all bins and far out") {
    random_stream stream(11);
    for (const std::int64_t bin :
         {std::int64_t{1}, std::int64_t{2}, std::int64_t{3}, std::int64_t{7}, std::int64_t{10}, std::int64_t{100'000},
          std::int64_t{99'999'999'977}, most_of_output - 1, most_of_output})
        for (int i = 0; i < 200; ++i) {
            const auto at = static_cast<std::int64_t>(stream.next_bits() >> 17U); // below 2^47
            const std::int64_t first = at / bin * bin;
            for (const std::int64_t value :
                 {at, -at, first, -first, first - 1, 1 - first, most_of_output - at, at - most_of_output}) {
                const std::int64_t low = (value / bin - (value % bin < 0 ? 1 : 0)) * bin;
                const auto found = of({"x", 1.0, bin}, {value}).histogram();
                REQUIRE(found == std::vector<histogram_bin>{{low, low + (bin - 1), 1}});
            }
        }
}

TEST_CASE("more bins than there is room for become twice as wide, in whatever order values come") {
    constexpr std::int64_t n = 200'000; // of which 65,536 bins hold 4 each
    exact_summary rising({"x"}), falling({"x"}), odd({"x"}), even({"x"});
    for (std::int64_t i = 0; i < n; ++i) {
        rising.add(i);
        falling.add(n - 1 - i);
        (i % 2 == 0 ? even : odd).add(i);
    }
    CHECK(rising.bin_width() == 4);
    CHECK(rising.histogram().size() == 50'000);
    CHECK(rising.histogram().front() == histogram_bin{0, 3, 4});
    CHECK(rising == falling);
    CHECK(odd.bin_width() == 4);
    even.merge(odd);
    CHECK(even == rising);
    exact_summary few = of({"x"}, {5}), all = rising;
    few.merge(rising);
    all.add(5);
    CHECK(few == all);
}

TEST_CASE("values counted many at a time come to the summary of values counted one by one") {
    random_stream stream(5);
    for (const unsigned bits : {10U, 24U, 47U})
        for (const std::size_t n : {std::size_t{1}, std::size_t{64}, std::size_t{5000}}) {
            exact_summary one_by_one({"x", 1.0, 7}), together({"x", 1.0, 7});
            std::vector<std::int64_t> values;
            for (std::size_t i = 0; i < n; ++i)
                values.push_back(static_cast<std::int64_t>(stream.next_bits() >> (64U - bits)) - (1LL << (bits - 1U)));
            if (n > 1) values[n / 2] = no_output;
            for (const std::int64_t value : values) one_by_one.add(value);
            together.add(values);
            CHECK(together == one_by_one);
            values.back() = most_of_output + 1;
            CHECK_THROWS_AS(together.add(values), invalid_input);
            CHECK(together == one_by_one);
        }
}

TEST_CASE("parts merge to the same summary in any grouping and order") {
    std::vector<exact_summary> parts;
    exact_summary whole({"x", 1e-9, 100});
    random_stream stream(3);
    for (int part = 0; part < 4; ++part) {
        parts.emplace_back(study_output{"x", 1e-9, 100});
        for (int i = 0; i < 25'000; ++i) {
            // Wide enough for coarser bins, which each part has at another time.
            const auto value = static_cast<std::int64_t>(stream.next_bits() >> 40U) - (part << 22);
            parts.back().add(value);
            whole.add(value);
        }
    }
    exact_summary left = parts[0], right = parts[2], backwards({"x", 1e-9, 100});
    left.merge(parts[1]);
    right.merge(parts[3]);
    exact_summary grouped = left;
    grouped.merge(right);
    for (std::size_t part = 4; part-- > 0;) backwards.merge(parts[part]);
    CHECK(whole.bin_width() > 100);
    CHECK(grouped == whole);
    CHECK(backwards == whole);
    CHECK(grouped.mean() == whole.mean());
    CHECK(grouped.variance() == whole.variance());
    CHECK_FALSE(left == right);
}

TEST_CASE("summaries of different outputs, outputs that are none and values beyond all bounds are refused") {
    exact_summary s = of({"x"}, {1});
    CHECK_THROWS_WITH(s.merge(exact_summary({"x", 2.0})),
                      "summary of x: got another of x, expected one with the same name, unit and bin");
    CHECK_THROWS_WITH(s.add(most_of_output + 1), "output x: got 140737488355329, expected -2^47 to 2^47 whole numbers");
    CHECK(s == of({"x"}, {1}));
    CHECK_THROWS_WITH(exact_summary({""}), "output.name: got nothing, expected a name");
    CHECK_THROWS_WITH(exact_summary({"x", 0.0}), "output.unit: got 0, expected a finite value above zero");
    CHECK_THROWS_WITH(exact_summary({"x", std::numeric_limits<double>::quiet_NaN()}),
                      "output.unit: got nan, expected a finite value above zero");
    CHECK_THROWS_WITH(exact_summary({"x", 1.0, 0}), "output.bin: got 0, expected 1 to 2^47 whole numbers");
}

} // namespace exact_summary_test
