// Robust choices against tables whose answers are worked out by hand, and by enumeration.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/sweep/robust_choice.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace robust_choice_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("robust choice: the average, the worst case and the regret may name three candidates") {
    // Invented; regrets by hand: bests are 10, 8, 6; bold 0, 8, 6, steady 6, 4, 0, between 4, 0, 3.
    const scenario_table table{{"bold", "steady", "between", "poor"},
                               {{10.0, 0.0, 0.0}, {4.0, 4.0, 6.0}, {6.0, 8.0, 3.0}, {3.0, 3.0, 3.0}}};
    const auto found = choose_robustly(table, 0.0);
    REQUIRE(found);
    CHECK(found->candidates[0].greatest_regret == 8.0);
    CHECK(found->candidates[1].greatest_regret == 6.0);
    CHECK(found->candidates[2].greatest_regret == 4.0);
    CHECK_THAT(found->candidates[1].mean_regret, WithinRel(10.0 / 3.0, 1e-15));
    CHECK(found->candidates[1].at_quantile == 4.0); // the worst case
    CHECK(found->candidates[2].at_quantile == 3.0);
    CHECK(found->on_average.candidate == 2);
    CHECK(found->on_average.price == 0.0);
    CHECK(found->at_quantile.candidate == 1);
    CHECK_THAT(found->at_quantile.price, WithinRel(17.0 / 3.0 - 14.0 / 3.0, 1e-14));
    CHECK(found->at_quantile.price_interval->low < 1.0);
    CHECK(found->least_regret.candidate == 2);
}

TEST_CASE("robust choice: the least regret need not be the best on average, and has its price") {
    const scenario_table table{{"bold", "hedge"}, {{30.0, 0.0, 30.0}, {18.0, 10.0, 18.0}}};
    const auto found = choose_robustly(table, 0.5);
    REQUIRE(found);
    CHECK(found->on_average.candidate == 0);
    CHECK(found->least_regret.candidate == 0); // regrets 10 and 12
    CHECK(found->at_quantile.candidate == 0);  // two of three have 30
    const auto worst = choose_robustly(table, 0.0);
    CHECK(worst->at_quantile.candidate == 1);
    CHECK_THAT(worst->at_quantile.price, WithinRel(20.0 - 46.0 / 3.0, 1e-14));
}

TEST_CASE("robust choice: of equals the first is chosen") {
    const auto found = choose_robustly({{"a", "b"}, {{1.0, 2.0}, {2.0, 1.0}}}, 0.0);
    CHECK(found->on_average.candidate == 0);
    CHECK(found->at_quantile.candidate == 0);
    CHECK(found->least_regret.candidate == 0);
    const auto one = choose_robustly({{"only"}, {{3.0}}});
    CHECK(one->least_regret.candidate == 0);
    CHECK_FALSE(one->on_average.price_interval);
    CHECK_FALSE(one->candidates[0].interval);
}

TEST_CASE("robust choice: what is impossible in a scenario is summed up and not chosen") {
    const scenario_table table{{"risky", "safe"}, {{9.0, std::nullopt, 9.0}, {1.0, 1.0, 1.0}}};
    const auto found = choose_robustly(table);
    REQUIRE(found);
    CHECK(found->candidates[0].impossible == 1);
    CHECK(found->candidates[0].mean == 9.0);
    CHECK(found->on_average.candidate == 1);
    CHECK(found->candidates[1].greatest_regret == 8.0);
    CHECK_FALSE(choose_robustly({{"a"}, {{std::nullopt, 1.0}}}));
}

TEST_CASE("robust choice: the quantile is what all but a share of the scenarios reach") {
    std::vector<std::optional<double>> ten;
    for (int i = 0; i < 10; ++i) ten.emplace_back((i * 7) % 10);
    const scenario_table table{{"a"}, {ten}};
    for (int k = 0; k < 10; ++k)
        CHECK(choose_robustly(table, 0.1 * k)->candidates[0].at_quantile == static_cast<double>(k));
    CHECK(choose_robustly(table, 0.15)->candidates[0].at_quantile == 1.0);
}

TEST_CASE("robust choice: candidates meet the same scenarios, so common luck falls out of the price") {
    // Each scenario adds the same luck of spread 100 to all; the second candidate is 1 better.
    const auto worth = [](std::size_t c, const study_replicate& scenario) {
        random_stream stream = scenario.stream();
        return 100.0 * stream.next_uniform() + static_cast<double>(c);
    };
    const scenario_table table = run_scenarios({"a", "b"}, 500, worth);
    CHECK(run_scenarios({"a", "b"}, 500, worth, 1, threads(3)) == table);
    const auto found = choose_robustly(table);
    CHECK(found->on_average.candidate == 1);
    CHECK(found->candidates[0].greatest_regret - 1.0 < 1e-9);
    CHECK(found->candidates[1].greatest_regret == 0.0);
    CHECK(found->candidates[0].interval->high - found->candidates[0].interval->low > 4.0);
}

TEST_CASE("robust choice: against enumeration of random tables") {
    random_stream stream(7);
    for (int trial = 0; trial < 200; ++trial) {
        const std::size_t candidates = 1 + stream.next_bits() % 6, scenarios = 1 + stream.next_bits() % 9;
        scenario_table table;
        for (std::size_t c = 0; c < candidates; ++c) {
            table.candidates.push_back("c" + std::to_string(c));
            table.worth.emplace_back();
            for (std::size_t s = 0; s < scenarios; ++s)
                table.worth[c].emplace_back(static_cast<double>(stream.next_bits() % 10));
        }
        const auto found = choose_robustly(table, 0.25);
        REQUIRE(found);
        double least_regret = 1e9, most_mean = -1e9;
        for (std::size_t c = 0; c < candidates; ++c) {
            double regret = 0.0, sum = 0.0;
            for (std::size_t s = 0; s < scenarios; ++s) {
                for (std::size_t other = 0; other < candidates; ++other)
                    regret = std::max(regret, *table.worth[other][s] - *table.worth[c][s]);
                sum += *table.worth[c][s];
            }
            CHECK(found->candidates[c].greatest_regret == regret);
            least_regret = std::min(least_regret, regret);
            most_mean = std::max(most_mean, sum / static_cast<double>(scenarios));
            // At least three quarters of the scenarios are worth as much as the quantile, and no candidate beats the one chosen by it.
            const auto reached = std::count_if(table.worth[c].begin(), table.worth[c].end(),
                                               [&](const auto& w) { return *w >= found->candidates[c].at_quantile; });
            CHECK(static_cast<double>(reached) >= 0.75 * static_cast<double>(scenarios));
            CHECK(found->candidates[c].at_quantile <= found->candidates[found->at_quantile.candidate].at_quantile);
        }
        CHECK(found->candidates[found->least_regret.candidate].greatest_regret == least_regret);
        CHECK_THAT(found->candidates[found->on_average.candidate].mean, WithinAbs(most_mean, 1e-12));
        CHECK(found->least_regret.price >= 0.0);
    }
}

TEST_CASE("robust choice: tables that are none are refused by name") {
    const auto field_of = [](const scenario_table& table, double quantile = 0.1) {
        try {
            (void)choose_robustly(table, quantile);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    CHECK(field_of({}) == "candidates");
    CHECK(field_of({{"a"}, {}}) == "worth");
    CHECK(field_of({{"a"}, {{}}}) == "scenarios");
    CHECK(field_of({{"a", "b"}, {{1.0}, {1.0, 2.0}}}) == "worth of b");
    CHECK(field_of({{"a", "b"}, {{1.0, 2.0}, {1.0, std::numeric_limits<double>::quiet_NaN()}}}) ==
          "worth of b in scenario 1");
    CHECK(field_of({{"a"}, {{1.0}}}, 1.0) == "quantile");
    const auto angry = [](std::size_t c, const study_replicate& s) -> double {
        if (c == 1 && s.number() == 2) throw std::domain_error("no such cut");
        return 0.0;
    };
    try {
        (void)run_scenarios({"a", "b"}, 5, angry);
        FAIL("nothing was thrown");
    } catch (const std::runtime_error& e) {
        CHECK(std::string(e.what()) == "candidate b threw in scenario 2: no such cut");
    }
}

} // namespace robust_choice_test
