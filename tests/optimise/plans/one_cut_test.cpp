// That whatever plans takes one cut, several in braces, or a vector, and answers all three alike.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise.hpp>

#include "cut/samples.hpp"

namespace one_cut_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const cut_spec steak{.name = "steak", .thickness = {24_mm, 32_mm}, .portion = {250_g, 520_g}};

const profile meat = strip_table();
const price_list<usd> prices{.portions = {{"steak", {.by_weight = 30_usd / 1_kg}}}};

/// `plan(cuts)` is the same for all three.
template <class Plan>
void check_all(const Plan& plan) {
    const auto of_one = plan(steak);
    CHECK(of_one == plan(std::vector{steak}));
    CHECK(of_one == plan(cut_list{steak}));
}

} // namespace

TEST_CASE("a list of cuts is made of one, of some in braces, or of a vector") {
    const auto count = [](const cut_list& cuts) { return cuts.size(); };
    cut_spec other = steak;
    other.name = "thin steak";
    CHECK(count(steak) == 1);
    CHECK(count({steak}) == 1);
    CHECK(count({steak, other}) == 2);
    CHECK(count(std::vector{steak, other}) == 2);
    CHECK(count({{.name = "steak", .thickness = 1_in}, {.name = "thin steak", .thickness = 10_mm}}) == 2);
    CHECK(cut_list{steak} == cut_list(steak));
    CHECK(cut_list{steak, other} != cut_list(steak));
}

TEST_CASE("every named way takes one cut") {
    check_all([](const auto& cuts) { return most_portions(meat, cuts); });
    check_all([](const auto& cuts) { return least_waste(meat, cuts); });
    check_all([](const auto& cuts) { return least_giveaway(meat, cuts); });
    check_all([](const auto& cuts) { return best_value(meat, cuts, prices); });
    check_all([](const auto& cuts) { return even_portions(meat, cuts, {}, 5); });
    check_all([](const auto& cuts) { return fewest_settings(meat, cuts); });
    check_all([](const auto& cuts) { return most_expected_portions(meat, {cuts}, {}); });
    check_all([](const auto& cuts) { return best_expected_value(meat, {cuts}, prices, {}); });
    check_all([](const auto& cuts) { return polish(meat, {.cuts = cuts}, even_portions(5), 1_mm); });
}

TEST_CASE("every front takes one cut") {
    check_all([](const auto& cuts) { return count_and_waste_front(meat, cuts); });
    check_all([](const auto& cuts) { return count_waste_and_thickness_front(meat, cuts); });
    check_all([](const auto& cuts) { return count_waste_and_evenness_front(meat, cuts, {}, {.most_tables = 20}); });
    check_all(
        [](const auto& cuts) { return count_waste_thickness_and_evenness_front(meat, cuts, {}, {.most_tables = 20}); });
}

TEST_CASE("problems, requests, sessions and checks take one cut") {
    const auto portions = [](const cutting_problem& problem) { return portion_count_objective(problem); };
    check_all([&](const auto& cuts) {
        const cutting_problem problem(meat, cuts, {});
        return plan(problem, portions(problem));
    });
    check_all([&](const auto& cuts) { return limit_costs(meat, {.cuts = cuts}, portions); });
    check_all([&](const auto& cuts) { return one_more_portion(meat, {.cuts = cuts}, portions); });
    check_all([&](const auto& cuts) { return polish(meat, {.cuts = cuts}, portions, 1_mm); });
    check_all([&](const auto& cuts) {
        cutting_session session(meat, {cuts}, portions);
        return *session.next();
    });
    check_all([&](const auto& cuts) { return verify(most_portions(meat, steak).plan, meat, cuts, {}); });
    CHECK(verify(most_portions(meat, steak).plan, meat, steak, {}).empty());
}

} // namespace one_cut_test
