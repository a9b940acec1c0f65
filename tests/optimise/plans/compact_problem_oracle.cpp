// Problems kept small against the problems that they were made from: same scores, same cuts, at prices set again and again.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise/plans/best_plans.hpp>
#include <tranche/optimise/plans/compact_problem.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace compact_problem_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

/// What `compact_workspace::plan` says that it plans by.
struct with_values {
    using score_type = std::int64_t;
    const cutting_problem& problem;
    worth_objective worth;
    cut_values values;

    [[nodiscard]] double rate(std::size_t o) const {
        const std::vector<double>& rates = problem.is_portion(o) ? values.by_weight : values.loose;
        return rates.empty() ? 0.0 : rates[problem.is_portion(o) ? o - problem.loose_count() : o];
    }
    [[nodiscard]] std::int64_t opening(std::size_t o, std::size_t from) const {
        return worth.opening(o, from) - std::llround(rate(o) * static_cast<double>(problem.front(o)[from]));
    }
    [[nodiscard]] std::int64_t closing(std::size_t o, std::size_t to) const {
        const bool each = problem.is_portion(o) && !values.each.empty();
        return worth.closing(o, to) + std::llround(rate(o) * static_cast<double>(problem.back(o)[to])) +
               (each ? problem.pieces(o) * values.each[o - problem.loose_count()] : 0);
    }
};

cut_values random_values(dice& d, const cutting_problem& problem, bool by_weight) {
    cut_values values;
    if (!d.once_in(4))
        for (std::size_t s = 0; s < problem.specs().size(); ++s)
            values.each.push_back(std::llround(1e9 * d.between(-3.0, 12.0)));
    if (!by_weight) return values;
    for (std::size_t s = 0; s < problem.specs().size() && !d.once_in(4); ++s)
        values.by_weight.push_back(d.once_in(3) ? 0.0 : std::round(d.between(-5.0, 30.0)));
    values.by_weight.resize(values.by_weight.empty() ? 0 : problem.specs().size());
    if (d.once_in(2)) values.loose.assign(problem.loose_count(), d.between(-1.0, 8.0));
    return values;
}

} // namespace

TEST_CASE("a compact problem gives the plans of the problem that it was made from, at whatever prices") {
    compact_workspace room;
    std::size_t differ = 0, many_portions = 0;
    for (std::uint64_t seed = 0; seed < rounds(300, many_instances); ++seed) {
        dice d(seed + 1'400'000);
        request r = seed % 3 == 0 ? random_request(d, 3, 14) : request_of_size(d, 10, 300);
        if (seed % 2 == 1) add_limits(d, r);
        if (seed % 8 == 3) add_links(d, r);
        if (seed % 8 == 5) add_places(d, r);
        if (seed % 8 == 7) add_loose_rules(d, r);
        cutting_problem problem(r.meat, r.specs, r.rules);
        if (seed % 16 == 2) problem.plan_rest(d.whole(0, problem.cells()), d.between(0.8, 1.2));
        const worth_objective worth(problem, random_prices(d, r.specs));
        const bool by_weight = d.once_in(2);
        const compact_problem compact(problem, worth, by_weight ? kept_weights::all : kept_weights::none);
        std::vector<std::size_t> before;
        for (int again = 0; again < 3; ++again) {
            const with_values objective{problem, worth, random_values(d, problem, by_weight)};
            const auto expected = best_path(problem, objective);
            const compact_plan& found = room.plan(compact, objective.values);
            CAPTURE(seed, again);
            CHECK(found.score == expected.score);
            CHECK(found.stretches == expected.stretches);
            CHECK(found.portions == detail::portions_of(problem, expected.stretches));
            differ += again > 0 && before != found.portions ? 1U : 0U;
            many_portions += portion_count(problem.specs(), found.stretches) > 5 ? 1U : 0U;
            before = found.portions;
        }
    }
    CHECK(differ > 50); // prices change plans
    CHECK(many_portions > 50);
}

TEST_CASE("scores that a double does not hold are as exact") {
    compact_workspace room;
    for (std::uint64_t seed = 0; seed < rounds(40); ++seed) {
        dice d(seed + 1'430'000);
        request r = request_of_size(d, 10, 200);
        if (seed % 2 == 1) add_limits(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const worth_objective worth(problem, random_prices(d, r.specs));
        const compact_problem compact(problem, worth);
        with_values objective{problem, worth, {}};
        for (std::size_t s = 0; s < r.specs.size(); ++s) { // odd, so that a double would round sums of them
            const double millions = d.between(1.0, 12.0);
            objective.values.each.push_back(2 * std::llround(1e15 * millions) + 1);
        }
        const auto expected = best_path(problem, objective);
        const compact_plan& found = room.plan(compact, objective.values);
        CAPTURE(seed);
        CHECK(found.score == expected.score);
        CHECK(found.stretches == expected.stretches);
    }
}

TEST_CASE("prices given to a compact problem are those of a price list") {
    compact_workspace room;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 1'410'000);
        request r = request_of_size(d, 20, 200);
        price_list<usd> prices = random_prices(d, r.specs), by_weight_alone = prices;
        cut_values values;
        for (const cut_spec& spec : r.specs) {
            const auto cents = static_cast<std::int64_t>(d.whole(0, 600));
            prices.portions[spec.name].each = money<usd>::from_value(static_cast<double>(cents) / 100.0);
            by_weight_alone.portions[spec.name].each = {};
            values.each.push_back(10'000'000 * cents);
        }
        const planned expected = plan(r.meat, {.cuts = r.specs, .rules = r.rules}, best_value(prices));
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const compact_problem compact(problem, worth_objective(problem, by_weight_alone));
        CAPTURE(seed);
        CHECK(static_cast<double>(room.plan(compact, values).score) == expected.score_parts.at(0).value);
    }
}

TEST_CASE("what does not fit a compact problem is refused by name") {
    dice d(1'420'000);
    const request r = request_of_size(d, 40, 40);
    const cutting_problem problem(r.meat, r.specs, r.rules);
    const compact_problem compact(problem, worth_objective(problem, random_prices(d, r.specs)));
    compact_workspace room;
    const auto field = [&](const cut_values& values) {
        try {
            room.plan(compact, values);
        } catch (const invalid_input& error) {
            return error.field();
        }
        return std::string("none");
    };
    CHECK(field({}) == "none");
    CHECK(field({.each = std::vector<std::int64_t>(r.specs.size() + 1)}) == "each");
    CHECK(field({.by_weight = std::vector<double>(r.specs.size(), 1.0)}) == "by_weight");
    CHECK(field({.each = std::vector<std::int64_t>(r.specs.size(), std::int64_t{1} << 61U)}) == "values");
}

TEST_CASE("a compact problem takes a small part of the room of its problem and outlives it") {
    using namespace tranche::literals;
    // A loin and twenty cuts, invented; 1 mm.
    std::vector<cut_spec> specs;
    for (int k = 0; k < 20; ++k)
        specs.push_back({.name = "cut " + std::to_string(k),
                         .thickness = {(15 + k) * 1_mm, (25 + k) * 1_mm},
                         .gluteus_medius = any_gluteus_medius});
    cut_values values;
    for (int k = 0; k < 20; ++k) values.each.push_back(1'000'000'000 + 40'000'000 * k);
    const auto make = [&] {
        const profile meat = tabulate(tapered_loin{.length = 430_mm,
                                                   .rib = {.width = 17_cm, .depth = 7_cm, .fat_cover = 8_mm},
                                                   .sirloin = {.width = 16_cm, .depth = 6_cm, .fat_cover = 6_mm}},
                                      1_mm);
        const cutting_problem problem(meat, specs, {});
        return std::pair{compact_problem(problem, portion_mass_objective(problem)),
                         compact_problem(problem, portion_count_objective(problem))};
    };
    const auto [by_mass, by_count] = make();
    CHECK(by_count.bytes() <
          25'000); // two bytes for each of 20 x 430, and what lies around; 8 times as many in a slab_graph
    CHECK(by_mass.bytes() < 30'000); // and one column
    compact_workspace room;
    CHECK(portion_count(specs, room.plan(by_count, values).stretches) > 15);
    CHECK(room.plan(by_mass, {}).score > 0);
}

} // namespace compact_problem_oracle
