// Laws of scales that disagree: within the tolerance every step of the money takes the same weights, and beyond it none does.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <cstdint>
#include <functional>
#include <random>
#include <regex>
#include <string>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/cost/savings/edible_basis.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/savings/offers.hpp>
#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/cost/yield/cooking_loss.hpp>
#include <tranche/cost/yield/usable_cost.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace weighing_tolerance_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// From low to high, the same on every platform.
double between(std::mt19937& random, double low, double high) {
    return low + (high - low) * (static_cast<double>(random()) / 4294967295.0);
}

/// Every question about money that a test with one kind of portions answers; what it throws is a failure of the caller.
savings<usd> everything_asked(const yield_test<usd>& test, micrograms portions) {
    const ready_cut<usd> ready{.name = "ready cut", .price = 20_usd / 1_kg, .edible_share = 0.9};
    const auto saved = make_or_buy<usd>(ready, {{.name = "steak", .weight = portions, .count = 10}}, test,
                                        {.costs = {.time = 20_min, .pay = 18_usd / 1_h}});
    static_cast<void>(break_even_price(saved.terms));
    static_cast<void>(break_even_ready_price(saved.terms));
    static_cast<void>(break_even_wage(saved.terms));
    static_cast<void>(break_even_yield(saved.terms));
    static_cast<void>(test.costs().portions_from(5_kg, 300_g));
    const auto ranked = rank_offers<usd>({offer_of("whole", test)}, 300_g);
    CHECK(ranked.size() == 1);
    const auto grid = tabulate_savings(saved, stepped(test.purchase.price, 1_usd / 1_kg, 2),
                                       stepped(saved.terms.yield(), 0.05, 2, 0.05, 1.0));
    bool pinned = false;
    for (std::size_t i = 0; i < grid.yields.size(); ++i)
        for (std::size_t k = 0; k < grid.prices.size(); ++k)
            if (grid.yields[i] == grid.yield && grid.prices[k] == grid.price)
                pinned = grid.net_saving[i][k] == saved.net_saving;
    CHECK(pinned);
    CHECK(cost_breakdown(saved, test).back().level == saved.net_saving);
    amount<usd> net, from_gross = saved.gross_saving;
    for (const auto& line : saved.lines) net += line.value;
    for (const auto& line : saved.differences) from_gross += line.value;
    CHECK(net == saved.net_saving);
    CHECK(from_gross == saved.net_saving);
    return saved;
}

} // namespace

TEST_CASE("an untrimmed whole loin is compared and ranked whatever its weight in hundredths of a pound") {
    for (int hundredths = 1; hundredths <= 3000; hundredths += hundredths < 1200 || hundredths >= 1300 ? 37 : 1) {
        const mass weight = static_cast<double>(hundredths) * 0.01 * pound;
        INFO(hundredths << " hundredths of a pound");
        const auto test =
            cutting_yield_test<usd>({.weight = weight, .price = 8_usd / 1_lb},
                                    {{.name = "loin", .weight = weight, .role = part_role::usable}}, mass{});
        CHECK(test.lines.size() == 1);
        static_cast<void>(everything_asked(test, to_micrograms(weight)));
    }
}

TEST_CASE("scales that disagree within their tolerance leave a line on the bill and stop nothing") {
    std::mt19937 random(5);
    for (int round = 0; round < 100; ++round) {
        const mass bought = between(random, 0.5, 20.0) * kilogram;
        const weighing_tolerance tolerance = round % 2 == 0 ? weighing_tolerance{} : weighing_tolerance{50_g};
        const micrograms allowed = tolerance.at(bought);
        const micrograms off{
            static_cast<std::int64_t>(between(random, -0.999, 0.999) * static_cast<double>(allowed.count))};
        const mass trim = between(random, 0.0, 0.3) * bought;
        const micrograms steak = to_micrograms(bought) + off - to_micrograms(trim);
        const std::vector<weighed_part<usd>> parts{
            {.name = "steak", .weight = to_mass(steak), .role = part_role::usable},
            {.name = "trim", .weight = trim, .role = part_role::by_product, .value = 3_usd / 1_kg}};
        INFO("bought " << detail::shown(bought) << ", off by " << off.count << " micrograms");
        const auto test = cutting_yield_test<usd>({.weight = bought, .price = 12_usd / 1_kg}, parts, tolerance);
        REQUIRE(test.lines.size() == 3);
        CHECK(test.lines[2].part.name == "unaccounted for");
        CHECK(test.lines[2].weight == micrograms{} - off);
        CHECK(test.lines[0].weight == steak);
        static_cast<void>(everything_asked(test, steak));
        const auto roast = cooking_loss_test<usd>(
            test, to_mass(steak), {{.name = "roast", .weight = to_mass(steak), .role = part_role::usable}}, tolerance);
        CHECK(roast.costs().per_weight().has_value());

        // Beyond it both weights, the difference and the tolerance are said.
        auto heavier = parts;
        heavier[0].weight = bought + 1.01 * to_mass(allowed) - trim;
        CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = bought, .price = 12_usd / 1_kg}, heavier, tolerance),
                          ContainsSubstring(detail::shown(bought)) &&
                              ContainsSubstring("more than the " + detail::shown(to_mass(allowed)) + " of the scale"));
    }
}

TEST_CASE("parts that are no whole micrograms are compared as they were weighed") {
    // Thirds of a pound: what rounding misses goes to one of the parts, and the portions are as they were weighed.
    for (int thirds = 4; thirds <= 100; ++thirds) {
        const mass third = pound / 3.0, steak = static_cast<double>(thirds - 3) * third;
        std::vector<weighed_part<usd>> parts{{.name = "steak", .weight = steak, .role = part_role::usable}};
        for (int k = 0; k < 3; ++k) parts.push_back({.name = "fat", .weight = third});
        const auto test = cutting_yield_test<usd>(
            {.weight = static_cast<double>(thirds) * third, .price = 8_usd / 1_lb}, parts, mass{});
        INFO(thirds << " thirds of a pound");
        static_cast<void>(everything_asked(test, to_micrograms(steak)));
    }
}

TEST_CASE("terms, offers and costs refuse portions beyond the tolerance with both weights, the difference and the "
          "tolerance") {
    const std::string says = "5000 g; it is heavier by 30 g, more than the 20 g of the scale";
    savings_terms<usd> terms{.bought = {.weight = 5_kg, .price = 10_usd / 1_kg}, .portions = 5.03_kg};
    CHECK_THROWS_WITH(validate(terms), StartsWith("portions: got 5030 g, expected at most the weight bought, " + says));
    terms.scale_tolerance = 30_g;
    CHECK_NOTHROW(validate(terms));
    offer<usd> made{.name = "near", .bought = {.weight = 5_kg, .price = 10_usd / 1_kg}, .portions = 5.03_kg};
    CHECK_THROWS_WITH(validate(made), StartsWith("near: portions: got 5030 g") && ContainsSubstring(says));
    made.scale_tolerance = 30_g;
    CHECK_NOTHROW(validate(made));
    usable_cost<usd> costs{.price = 10_usd / 1_kg, .bought = 5_kg, .usable = 5.03_kg, .primary_value = 50_usd};
    CHECK_THROWS_WITH(costs.yield(), StartsWith("usable: got 5030 g") && ContainsSubstring(says));
    costs.scale_tolerance = 30_g;
    CHECK_THAT(costs.yield(), WithinRel(5.03 / 5.0, 1e-14));
}

TEST_CASE("what the money refuses leaves the units of its weights to whoever shows it") {
    const purchase<usd> bought{.weight = 5_kg, .price = 10_usd / 1_kg};
    const auto test = cutting_yield_test<usd>(bought, {{.name = "loin", .weight = 5_kg, .role = part_role::usable}});
    const ready_cut<usd> ready{.name = "ready cut", .price = 20_usd / 1_kg};
    const std::vector<std::function<void()>> refused{
        [&] { validate(savings_terms<usd>{.bought = bought, .portions = 5.03_kg}); },
        [&] { static_cast<void>(savings_terms<usd>{.bought = bought}.at_yield(0.5)); },
        [&] { validate(offer<usd>{.name = "near", .bought = bought, .portions = 5.03_kg}); },
        [&] { validate(offer<usd>{.name = "none", .bought = {.price = 10_usd / 1_kg}, .portions = 1_kg}); },
        [&] { validate(usable_cost<usd>{.price = 10_usd / 1_kg, .bought = 5_kg, .usable = 5.03_kg}); },
        [&] { static_cast<void>(test.costs().portions_from(5_kg, 1e-20_kg)); },
        [&] { static_cast<void>(cutting_yield_test<usd>({.weight = 1e-12_kg}, {{.name = "loin"}})); },
        [&] { static_cast<void>(cutting_yield_test<usd>(bought, {{.name = "loin", .weight = 4_kg}})); },
        [&] { static_cast<void>(cutting_yield_test<usd>(bought, {{.name = "loin", .weight = 6_kg}})); },
        [&] { static_cast<void>(cooking_loss_test<usd>(test, 5.03_kg, {{.name = "roast", .weight = 5.03_kg}})); },
        [&] { static_cast<void>(cooking_loss_test<usd>({}, 1_kg, {{.name = "roast", .weight = 1_kg}})); },
        [&] { static_cast<void>(make_or_buy<usd>(ready, {{.name = "steak", .weight = {-1}}}, test)); },
        [&] { static_cast<void>(make_or_buy<usd>(ready, {{.name = "steak", .weight = {1}}}, test)); },
        [&] { static_cast<void>(detail::shares_of({{micrograms{-1}}})); },
    };
    for (std::size_t i = 0; i < refused.size(); ++i) {
        INFO("case " << i);
        std::string shown = "nothing was refused";
        try {
            refused[i]();
        } catch (const invalid_input& e) {
            const auto in_tons = [](const auto&) { return std::string("TONS"); };
            shown = e.value_words().written(in_tons) + " / " + e.expected_words().written(in_tons);
        }
        CHECK_THAT(shown, ContainsSubstring("TONS"));
        CHECK_FALSE(std::regex_search(shown, std::regex("[0-9] (g|mm)\\b")));
    }
}

} // namespace weighing_tolerance_laws
