// Requests at and beyond the edge of sense, on every way to plan: refused by name, or answered by a plan that is sound.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/even_front.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/plans/front.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/polish.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/optimise/plans/robust_plans.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace absurd_requests_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();

profile prism(length extent, length step, double scale) {
    return tabulate(prism_loin{.length = extent, .face = {.width = scale * 16_cm, .depth = scale * 7_cm}}, step);
}

price_list<usd> prices_of(const std::vector<cut_spec>& specs) {
    price_list<usd> prices;
    for (const cut_spec& spec : specs)
        prices.portions[spec.name] = {.by_weight = unit_price<usd>::from_value(20.0),
                                      .each = money<usd>::from_value(1.0)};
    return prices;
}

const auto by_count = [](const cutting_problem& p) { return kept_mass_objective::portions_then_mass(p); };

/// A name, and a way to plan a request that calls `sound(profile, plan)` for each plan that comes of it.
using check = std::function<void(const profile&, const cutting_plan&)>;
struct way {
    std::string name;
    std::function<void(const profile&, const cutting_request&, const check&)> plan;
};

std::vector<way> ways() {
    using request = cutting_request;
    return {
        {"most portions", [](const profile& m, const request& r,
                             const check& c) { c(m, most_portions(m, r.cuts, r.rules, r.demands).plan); }},
        {"least waste", [](const profile& m, const request& r,
                           const check& c) { c(m, least_waste(m, r.cuts, r.rules, r.demands).plan); }},
        {"least giveaway", [](const profile& m, const request& r,
                              const check& c) { c(m, least_giveaway(m, r.cuts, {}, r.rules, r.demands).plan); }},
        {"best value", [](const profile& m, const request& r,
                          const check& c) { c(m, best_value(m, r.cuts, prices_of(r.cuts), r.rules, r.demands).plan); }},
        {"expected portions",
         [](const profile& m, const request& r, const check& c) {
             c(m, most_expected_portions(m, {r.cuts, r.rules, r.demands}, {}).plan);
         }},
        {"expected value",
         [](const profile& m, const request& r, const check& c) {
             c(m, best_expected_value(m, {r.cuts, r.rules, r.demands}, prices_of(r.cuts), {}).plan);
         }},
        {"even portions",
         [](const profile& m, const request& r, const check& c) { c(m, even_portions(m, r.cuts, r.rules).plan); }},
        {"fewest settings", [](const profile& m, const request& r,
                               const check& c) { c(m, fewest_settings(m, r.cuts, r.rules).planned.plan); }},
        {"fronts",
         [](const profile& m, const request& r, const check& c) {
             for (const front_point& p : count_and_waste_front(m, r.cuts, r.rules)) c(m, p.plan);
         }},
        {"polish",
         [](const profile& m, const request& r, const check& c) {
             const auto p = polish(m, r, by_count, 0.2 * m.step());
             c(p.meat, p.planned.plan);
         }},
        {"session",
         [](const profile& m, const request& r, const check&) {
             cutting_session s(m, {r.cuts, r.rules, r.demands}, by_count);
             for (int i = 0; i < 3 && s.next(); ++i) s.record({.weight = s.next()->weight});
             const cutting_account a = s.account();
             CHECK(a.whole - a.slabs - a.rest == a.unaccounted);
         }},
        {"what if",
         [](const profile& m, const request& r, const check& c) {
             const limit_steps coarse{.thickness = 5_mm, .portion = 0.05 * to_mass(m.total()), .share = 0.25};
             for (const limit_change& change : nearest_feasible(m, r, by_count, coarse)) c(m, change.planned.plan);
         }},
    };
}

/// Every way either refuses the request by `invalid_input`, or plans soundly; returns how many ways planned.
std::size_t planned_by(const profile& meat, const cutting_request& request, bool changes_limits_too = true) {
    std::size_t planned = 0;
    for (const way& w : ways()) {
        if (w.name == "what if" && !changes_limits_too) continue;
        CAPTURE(w.name);
        try {
            w.plan(meat, request, [&](const profile& on, const cutting_plan& cuts) {
                CHECK(balance_of(cuts).total() == on.total());
                CHECK(cuts.extent == on.extent());
                if (w.name == "what if") return; // of another request
                CHECK(verify(cuts, on, request.cuts, request.rules) == std::vector<std::string>{});
            });
            ++planned;
        } catch (const invalid_input& refused) {
            CHECK_FALSE(std::string(refused.what()).empty());
        }
    }
    return planned;
}

} // namespace

TEST_CASE("a loin of three grams and one of three tonnes are planned on every way") {
    const auto ask = [](double scale, length step) {
        const profile meat = prism(scale * 40_cm, step, scale);
        const mass portion = to_mass(meat.total()) / 10.0;
        const cutting_request request{.cuts = {{.name = "steak",
                                                .thickness = {scale * 20_mm, scale * 60_mm},
                                                .portion = {0.5 * portion, 1.5 * portion},
                                                .one_thickness = false}},
                                      .rules = {.facing = scale * 5_mm},
                                      .demands = {}};
        return std::pair{to_mass(meat.total()), planned_by(meat, request)};
    };
    const auto [light, of_light] = ask(0.0915, 0.4_mm);
    CHECK(light < 4_g);
    CHECK(of_light == ways().size());
    const auto [heavy, of_heavy] = ask(9.15, 40_mm);
    CHECK(heavy > 2.5e6 * gram);
    CHECK(of_heavy == ways().size());
}

TEST_CASE("limits that are no numbers, negative, upside down or empty are refused on every way") {
    const profile meat = prism(20_cm, 5_mm, 1.0);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 40_mm}, .portion = {100_g, 500_g}};
    const auto refused = [&](const std::function<void(cutting_request&)>& spoil) {
        cutting_request request{.cuts = {steak}, .rules = {}, .demands = {}};
        spoil(request);
        CHECK(planned_by(meat, request) == 0);
    };
    for (const double bad : {nan, -1.0, -inf}) {
        CAPTURE(bad);
        refused([&](cutting_request& r) { r.cuts[0].thickness.min = bad * metre; });
        refused([&](cutting_request& r) { r.cuts[0].thickness.max = bad * metre; });
        refused([&](cutting_request& r) { r.cuts[0].portion.min = bad * kilogram; });
        refused([&](cutting_request& r) { r.cuts[0].portion.max = bad * kilogram; });
        refused([&](cutting_request& r) { r.cuts[0].kerf = bad * metre; });
        refused([&](cutting_request& r) { r.cuts[0].thickness_step = bad * metre; });
        refused([&](cutting_request& r) { r.cuts[0].zone.min = bad * metre; });
        refused([&](cutting_request& r) { r.cuts[0].zone.max = bad * metre; });
        refused([&](cutting_request& r) { r.cuts[0].gluteus_medius.towards_rib = bad; });
        refused([&](cutting_request& r) { r.cuts[0].trim.fat_cover = bad * metre; });
        refused([&](cutting_request& r) { r.rules.facing = bad * metre; });
        refused([&](cutting_request& r) { r.rules.remnant.thickness = bad * metre; });
        refused([&](cutting_request& r) { r.rules.remnant.weight = bad * kilogram; });
        refused([&](cutting_request& r) { r.rules.loose[0].least_thickness = bad * metre; });
        refused([&](cutting_request& r) { r.rules.trim_whole.tail = bad * metre; });
    }
    refused([](cutting_request& r) { r.cuts.clear(); });
    refused([](cutting_request& r) { r.cuts.push_back(r.cuts[0]); });
    refused([](cutting_request& r) { r.cuts[0].name.clear(); });
    refused([](cutting_request& r) { r.cuts[0].pieces = 0; });
    refused([](cutting_request& r) { r.cuts[0].thickness = {}; });
    refused([](cutting_request& r) { r.cuts[0].thickness = {40_mm, 20_mm}; });
    refused([](cutting_request& r) { r.cuts[0].portion = {500_g, 100_g}; });
    refused([](cutting_request& r) { r.rules.loose.clear(); });
    refused([](cutting_request& r) { r.rules.facing = 1_m; });
    refused([](cutting_request& r) { r.rules.order = {{"steak", "chop"}}; });
}

TEST_CASE("limits as large or as small as doubles go are planned or refused, and never overflow") {
    const profile meat = prism(20_cm, 5_mm, 1.0);
    for (const double much : {1e18, 1e30, 1e300, std::numeric_limits<double>::max(), inf})
        for (const double little : {1e-300, std::numeric_limits<double>::denorm_min()}) {
            CAPTURE(much, little);
            const auto ask = [&](cut_spec spec, cutting_rules rules = {}, std::vector<demand> demands = {}) {
                spec.name = "steak";
                planned_by(meat, {{spec}, std::move(rules), std::move(demands)}, false);
            };
            ask({.thickness = {20_mm, much * metre}});
            ask({.thickness = {little * metre, much * metre}});
            ask({.thickness = {much * metre, much * metre}});
            ask({.thickness = {little * metre, little * metre}});
            ask({.thickness = {20_mm, 40_mm}, .portion = {little * kilogram, much * kilogram}});
            ask({.thickness = {20_mm, 40_mm}, .portion = {much * kilogram, much * kilogram}});
            ask({.thickness = {20_mm, 40_mm}, .portion = {0_g, little * kilogram}});
            ask({.thickness = {20_mm, 40_mm}, .pieces = std::numeric_limits<int>::max()});
            ask({.thickness = {20_mm, 40_mm},
                 .portion = {1_g, 9e6 * kilogram},
                 .pieces = std::numeric_limits<int>::max()});
            ask({.thickness = {20_mm, 40_mm}, .kerf = much * metre});
            ask({.thickness = {20_mm, 40_mm}, .kerf = little * metre});
            ask({.thickness = {20_mm, 40_mm}, .thickness_step = much * metre});
            ask({.thickness = {20_mm, 40_mm}, .thickness_step = little * metre});
            ask({.thickness = {20_mm, 40_mm}, .zone = {little * metre, much * metre}});
            ask({.thickness = {20_mm, 40_mm}, .zone = {much * metre, much * metre}});
            ask({.thickness = {20_mm, 40_mm}, .trim = {.fat_cover = much * metre, .tail = little * metre}});
            ask({.thickness = {20_mm, 40_mm}, .trim = {.over_cut = much * metre}});
            ask({.thickness = {20_mm, 40_mm}}, {.facing = little * metre});
            ask({.thickness = {20_mm, 40_mm}}, {.loose = {{.least_thickness = much * metre}}});
            ask({.thickness = {20_mm, 40_mm}}, {.remnant = {.thickness = much * metre}});
            ask({.thickness = {20_mm, 40_mm}}, {.remnant = {.weight = much * kilogram}});
            constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
            ask({.thickness = {20_mm, 40_mm}}, {}, {at_least(most, 0)});
            ask({.thickness = {20_mm, 40_mm}, .pieces = 7}, {}, {at_least(most, 0)});
            ask({.thickness = {20_mm, 40_mm}, .pieces = 7}, {}, {at_most(most - 1, 0)});
            ask({.thickness = {20_mm, 40_mm}}, {}, {at_most(0, 0)});
            ask({.thickness = {20_mm, 40_mm}}, {}, {exactly(0, 0)});
        }
}

TEST_CASE("a loin of one cell, and one that the facing takes, are planned on every way") {
    for (const length& facing : {0_mm, 24.9999_mm}) {
        CAPTURE(facing / millimetre);
        const profile meat = prism(25_mm, 30_mm, 1.0);
        const cutting_request request{.cuts = {{.name = "steak", .thickness = {20_mm, 30_mm}, .portion = {1_g, 1_kg}}},
                                      .rules = {.facing = facing},
                                      .demands = {}};
        REQUIRE(meat.cells() == 1);
        CHECK(planned_by(meat, request) == ways().size());
    }
}

} // namespace absurd_requests_laws
