// Wilks' sample sizes, and limits that keep their promise.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/summary/tolerance_limits.hpp>

#include <cmath>
#include <cstdint>

#include <tranche/study/random/random_stream.hpp>

#include "support/catch.hpp"

namespace tolerance_limits_test {

using namespace tranche;
using namespace tranche_test;

exact_summary ranks(std::int64_t n) {
    exact_summary summary({"rank"});
    for (std::int64_t i = 1; i <= n; ++i) summary.add(i);
    return summary;
}

TEST_CASE("Wilks' sample sizes are the published ones") {
    // Wilks (1941): 59 runs for a one-sided 95 % / 95 % limit of first order. The others follow from its formula, 1 - β^n >= γ
    // one-sided and 1 - n β^(n-1) + (n - 1) β^n >= γ two-sided (first order); 93, 124, 181 and 299 are the usual tables' (from memory).
    CHECK(wilks_sample_size({0.95, 0.95}) == 59);
    CHECK(wilks_sample_size({0.95, 0.95}, 2) == 93);
    CHECK(wilks_sample_size({0.95, 0.95}, 3) == 124);
    CHECK(wilks_sample_size({0.95, 0.95}, 1, true) == 93);
    CHECK(wilks_sample_size({0.95, 0.95}, 2, true) == 153);
    CHECK(wilks_sample_size({0.95, 0.95}, 5) == 181);
    CHECK(wilks_sample_size({0.99, 0.95}) == 299);
    CHECK(wilks_sample_size({0.9, 0.9}) == 22);
}

TEST_CASE("the least sample has limits and one value less has none") {
    CHECK_FALSE(find_tolerance_limits(ranks(58)).at_least);
    const tolerance_limits at_59 = find_tolerance_limits(ranks(59));
    CHECK(at_59.at_least == 1.0);
    CHECK(at_59.at_most == 59.0);
    CHECK_FALSE(at_59.low);
    CHECK_FALSE(find_tolerance_limits(ranks(92)).low);
    const tolerance_limits at_93 = find_tolerance_limits(ranks(93));
    CHECK(at_93.low == 1.0);
    CHECK(at_93.high == 93.0);
    CHECK(at_93.at_least == 2.0); // second order
    CHECK(find_tolerance_limits(ranks(124)).at_most == 122.0);
    CHECK_FALSE(find_tolerance_limits(exact_summary({"x"})).at_most);
}

TEST_CASE("limits hold their share of all values as often as they promise") {
    // Uniform values, so that a limit's share is the limit itself. 1,000 samples, chance 0.95 or a little more: a standard deviation
    // of 6.9, three of them.
    int at_least = 0, at_most = 0, both = 0;
    for (std::uint64_t repetition = 0; repetition < 1000; ++repetition) {
        exact_summary s({"x", 1e-6, 1});
        random_stream stream(7, repetition);
        for (int i = 0; i < 150; ++i) s.add(std::llround(stream.next_uniform() * 1e6));
        const tolerance_limits limits = find_tolerance_limits(s, {0.9, 0.95});
        at_least += 1.0 - *limits.at_least >= 0.9;
        at_most += *limits.at_most >= 0.9;
        both += *limits.high - *limits.low >= 0.9;
    }
    CHECK(at_least >= 930);
    CHECK(at_most >= 930);
    CHECK(both >= 930);
}

TEST_CASE("promises that are none are refused") {
    CHECK_THROWS_WITH(wilks_sample_size({1.0, 0.95}), "coverage: got 1, expected more than 0 and less than 1");
    CHECK_THROWS_WITH(wilks_sample_size({0.95, 0.0}), "confidence: got 0, expected more than 0 and less than 1");
    CHECK_THROWS_WITH(wilks_sample_size({0.95, 0.95}, 0), "order: got 0, expected 1 or more");
    CHECK_THROWS_WITH(find_tolerance_limits(ranks(9), {-1.0, 0.95}),
                      "coverage: got -1, expected more than 0 and less than 1");
}

} // namespace tolerance_limits_test
