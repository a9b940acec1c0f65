// Changes of single limits on random requests: each is planned with and does what it says, and no nearer one does.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>

#include "optimise/instances.hpp"

namespace what_if_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

constexpr auto by_count = [](const cutting_problem& problem) {
    return kept_mass_objective::portions_then_mass(problem);
};

/// One or two cuts of three to nine steps on 20 to 50 cells, often with zones, notches, a least remnant and one thickness.
std::optional<request> request_to_ask_about(dice& d) {
    const length step = detail::snapped(d.between(2.0, 6.0) * millimetre);
    request r{random_profile(d, d.whole(20, 50), step), {}, {}};
    const std::size_t specs = d.whole(1, 2);
    for (std::size_t i = 0; i < specs; ++i)
        r.specs.push_back(random_spec(d, r.meat, std::string("cut ") + static_cast<char>('A' + i), 3.0, 9.0));
    r.rules = random_rules(d, r.meat, 6.0);
    if (!(r.rules.facing < r.meat.extent())) return std::nullopt;
    if (!d.once_in(3)) return r;
    add_limits(d, r);
    for (cut_spec& spec : r.specs) spec.one_thickness = d.once_in(4);
    if (specs == 2 && d.once_in(2)) r.rules.order.push_back({r.specs[0].name, r.specs[1].name});
    if (d.once_in(2)) r.rules.trim_whole = random_trim(d);
    if (d.once_in(2)) add_loose_rules(d, r);
    return r;
}

limit_steps coarse_steps(const profile& meat) {
    return {.thickness = detail::snapped(0.25 * meat.step()),
            .portion = to_mass({meat.total().count / 500}),
            .share = 0.02};
}

/// A scan multiplies by itself, and is off by last bits.
bool same_value(const limit_value& a, const limit_value& b) {
    return a.index() == b.index() && std::abs(detail::raw_number(a) - detail::raw_number(b)) <= 1e-12;
}

/// Whether wider never loses a plan: a window narrower than the grid may be met by the nearest position and then not
/// by any; so may notches that move with the least thickness; and what a narrower kerf leaves is on the slab. Neither way is
/// wider for a trim.
bool is_monotone(const request& r, const request_limit& limit) {
    using kind = request_limit::kind;
    if (limit.of_a_trim()) return false;
    if (!limit.of_a_spec()) return true;
    if (limit.what == kind::kerf) return false;
    if (limit.what == kind::zone_from || limit.what == kind::zone_to || limit.what == kind::one_thickness) return true;
    if (r.specs[limit.index].thickness_step > length{}) return false;
    const quantity_range<length>& window = r.specs[limit.index].thickness;
    return window.max - window.min >= r.meat.step();
}

/// One step after the other both ways from what a trim leaves: the nearest that works.
template <class Works>
std::optional<limit_value> by_scan_both_ways(const profile& meat, const cutting_request& asked,
                                             const request_limit& limit, const limit_steps& steps, const Works& works) {
    const bool fat = limit.what == request_limit::kind::fat_left || limit.what == request_limit::kind::whole_fat_left;
    double most = 0.0;
    for (std::size_t i = 0; i < meat.cells(); ++i)
        most = std::max(most, (fat ? meat.fat_cover(i) : meat.tail(i)).thickness.value());
    const double now = std::min(detail::raw_number(value_of(asked, limit)), most), step = steps.thickness.value();
    const auto does = [&](double k) { return works(moved(asked, limit, limit_value{length::from_value(k * step)})); };
    double above = std::floor(now / step + 1e-6) + 1.0, below = std::ceil(now / step - 1e-6) - 1.0;
    while (above * step < most + step || below >= 0.0) {
        const bool up =
            above * step < most + step && (below < 0.0 || above * step - now <= now - below * step + 1e-9 * step);
        const double k = up ? above++ : below--;
        if (does(k)) return length::from_value(k * step);
    }
    return std::nullopt;
}

/// One step after the other from what a limit is: the first that works.
template <class Works>
std::optional<limit_value> by_scan(const profile& meat, const cutting_request& asked, const request_limit& limit,
                                   const limit_steps& steps, const Works& works) {
    using kind = request_limit::kind;
    double value = detail::raw_number(value_of(asked, limit));
    if (limit.of_a_trim()) return by_scan_both_ways(meat, asked, limit, steps, works);
    if (limit.what == kind::thickness_step || std::holds_alternative<bool>(value_of(asked, limit))) {
        if (value == 0.0) return std::nullopt;
        const limit_value none = limit.what == kind::thickness_step ? limit_value{length{}} : limit_value{false};
        return works(moved(asked, limit, none)) ? std::optional(none) : std::nullopt;
    }
    const bool is_length = std::holds_alternative<length>(value_of(asked, limit));
    const bool is_mass = std::holds_alternative<mass>(value_of(asked, limit));
    const double step = is_length ? steps.thickness.value() : is_mass ? steps.portion.value() : steps.share;
    const bool up = limit.what == kind::thickness_max || limit.what == kind::portion_max ||
                    limit.what == kind::zone_to || limit.what == kind::loose_zone_to ||
                    limit.what == kind::gluteus_medius_towards_rib ||
                    limit.what == kind::gluteus_medius_towards_sirloin;
    const double widest = is_length ? meat.extent().value() : is_mass ? to_mass(meat.total()).value() : 1.0;
    double k = up ? std::floor(value / step + 1e-6) + 1.0 : std::ceil(value / step - 1e-6) - 1.0;
    if (up && !(value < widest)) return std::nullopt;
    for (;; k += up ? 1.0 : -1.0) {
        value = k * step;
        if (up ? value > widest + step : value < -0.5 * step) return std::nullopt;
        if (!up && k < 0.5 && limit.what == kind::thickness_min) return std::nullopt;
        const limit_value to = is_length ? limit_value{length::from_value(value)}
                               : is_mass ? limit_value{mass::from_value(value)}
                                         : limit_value{std::min(value, 1.0)};
        if (works(moved(asked, limit, to))) return to;
        if (up && value >= widest) return std::nullopt;
    }
}

} // namespace

TEST_CASE("the nearest change of a limit is what trying one step after the other finds") {
    std::size_t impossible = 0, more = 0;
    for (std::uint64_t seed = 0; seed < rounds(13); ++seed) {
        dice d(seed + 800'000);
        const auto r = request_to_ask_about(d);
        if (!r) continue;
        const cutting_request asked{r->specs, r->rules, {}};
        const limit_steps steps = coarse_steps(r->meat);
        const std::size_t now = plan(r->meat, asked, by_count).plan.portion_count();
        const auto works = [&](const cutting_request& then) {
            return plan(r->meat, then, by_count).plan.portion_count() > now;
        };
        const auto changes = now == 0 ? nearest_feasible(r->meat, asked, by_count, steps)
                                      : one_more_portion(r->meat, asked, by_count, steps);
        CAPTURE(seed, now);
        for (const request_limit& limit : detail::limits_of(asked)) {
            if (limit.what == request_limit::kind::pieces) continue;
            CAPTURE(detail::owner_of(asked, limit), name_of(limit));
            const bool always_nearest = limit.of_a_trim() || is_monotone(*r, limit);
            const auto found = std::find_if(changes.begin(), changes.end(),
                                            [&](const limit_change& change) { return change.which == limit; });
            const auto nearest = by_scan(r->meat, asked, limit, steps, works);
            if (found == changes.end()) {
                CHECK((!nearest || !always_nearest));
                continue;
            }
            ++(now == 0 ? impossible : more);
            REQUIRE(nearest);
            if (always_nearest) CHECK(same_value(found->to, *nearest));
            const cutting_request then = moved(asked, limit, found->to);
            CHECK(found->planned.plan.portion_count() > now);
            CHECK(verify(found->planned.plan, r->meat, then.cuts, then.rules) == std::vector<std::string>{});
        }
    }
    CHECK(impossible > 2);
    CHECK(more > 10);
}

TEST_CASE("the nearest trim is what trying one after the other finds, however narrow the window of weights is") {
    std::size_t more_left = 0, less_left = 0, none = 0;
    for (std::uint64_t seed = 0; seed < rounds(28); ++seed) {
        dice d(seed + 805'000);
        const auto r = request_to_ask_about(d);
        if (!r) continue;
        cutting_request asked{r->specs, r->rules, {}};
        for (cut_spec& spec : asked.cuts) {
            spec.trim = {.fat_cover = d.between(0, 12) * millimetre, .tail = d.between(0, 50) * millimetre};
            const mass slab = to_mass(r->meat.total()) * (spec.thickness.min / r->meat.extent());
            spec.portion.min = slab * d.between(0.6, 1.1) / static_cast<double>(spec.pieces);
            spec.portion.max = spec.portion.min * d.between(1.001, 1.1);
        }
        if (d.once_in(2)) asked.rules.trim_whole.fat_cover = d.between(0, 8) * millimetre;
        const limit_steps steps = coarse_steps(r->meat);
        const std::size_t now = plan(r->meat, asked, by_count).plan.portion_count();
        const auto works = [&](const cutting_request& then) {
            return plan(r->meat, then, by_count).plan.portion_count() > now;
        };
        const auto changes = now == 0 ? nearest_feasible(r->meat, asked, by_count, steps)
                                      : one_more_portion(r->meat, asked, by_count, steps);
        CAPTURE(seed, now);
        for (const request_limit& limit : detail::limits_of(asked)) {
            if (!limit.of_a_trim()) continue;
            CAPTURE(detail::owner_of(asked, limit), name_of(limit));
            const auto found = std::find_if(changes.begin(), changes.end(),
                                            [&](const limit_change& change) { return change.which == limit; });
            const auto nearest = by_scan_both_ways(r->meat, asked, limit, steps, works);
            REQUIRE((found != changes.end()) == nearest.has_value());
            if (!nearest) {
                ++none;
                continue;
            }
            CHECK(same_value(found->to, *nearest));
            ++(detail::raw_number(found->to) > detail::raw_number(found->from) ? more_left : less_left);
            const cutting_request then = moved(asked, limit, found->to);
            CHECK(verify(found->planned.plan, r->meat, then.cuts, then.rules) == std::vector<std::string>{});
        }
    }
    CHECK(more_left > 2);
    CHECK(less_left > 3);
    CHECK(none > 5);
}

TEST_CASE("a spec that cannot be cut can be cut after each change that is named") {
    std::size_t changes = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 810'000);
        const auto r = request_to_ask_about(d);
        if (!r) continue;
        const cutting_request asked{r->specs, r->rules, {}};
        for (std::size_t spec = 0; spec < r->specs.size(); ++spec) {
            const bool cut = !binding_limit_of(cutting_problem(r->meat, r->specs, r->rules), spec);
            const auto found = nearest_portion_of(r->meat, asked, spec, coarse_steps(r->meat));
            CAPTURE(seed, spec);
            if (cut) CHECK(found.empty());
            for (const limit_change& change : found) {
                ++changes;
                const cutting_request then = moved(asked, change.which, change.to);
                CHECK(balance_of(change.planned.plan).portions[spec] > micrograms{});
                CHECK(verify(change.planned.plan, r->meat, then.cuts, then.rules).empty());
                // Alone it can be cut as well, unless another cut beside it is what keeps the remnant from being too small, or
                // fills what must not be loose.
                cutting_rules rules = then.rules;
                rules.remnant = {};
                for (loose_cut& loose : rules.loose) loose.place = loose_place::anywhere, loose.zone = {};
                rules.order.clear(); // which names cuts that are not there
                CHECK(most_portions(r->meat, then.cuts[spec], rules).feasible());
            }
        }
    }
    CHECK(changes > 8);
}

TEST_CASE("a limit costs what planning without a step of it gains") {
    std::size_t binding = 0, orders = 0;
    for (std::uint64_t seed = 0; seed < rounds(30); ++seed) {
        dice d(seed + 820'000);
        const auto r = request_to_ask_about(d);
        if (!r) continue;
        const cutting_request asked{r->specs, r->rules, {}};
        const auto prices = random_prices(d, r->specs);
        const auto by_value = [&](const cutting_problem& problem) { return value_objective<usd>(problem, prices); };
        const limit_steps steps{.thickness = r->meat.step(), .portion = to_mass(r->meat.total()) / 100.0, .share = 0.1};
        const double now = best_value(r->meat, r->specs, prices, r->rules).score();
        CAPTURE(seed);
        for (const limit_cost& cost : limit_costs(r->meat, asked, by_value, steps)) {
            CAPTURE(detail::owner_of(asked, cost.which), name_of(cost.which));
            const cutting_request then = moved(asked, cost.which, cost.to);
            CHECK(best_value(r->meat, then.cuts, prices, then.rules).score() - now == cost.gain);
            // A window of a step or more only gets wider, and a plan under it stays one.
            const bool wider = cost.which.what != request_limit::kind::pieces &&
                               cost.which.what != request_limit::kind::facing && is_monotone(*r, cost.which);
            if (wider) CHECK(cost.gain >= 0.0);
            binding += cost.binds();
            orders += cost.which.what == request_limit::kind::order;
        }
    }
    CHECK(binding > 15);
    CHECK(orders > 1);
}

namespace {

/// Stops when it was asked so often.
search_limits asked_at_most(std::size_t& left) {
    return {.stop = stop_signal([&left] { return left == 0 || --left == 0; })};
}

/// Whether all of `some` stands in `all`, in that order.
template <class T>
bool is_part_of(const std::vector<T>& some, const std::vector<T>& all) {
    auto from = all.begin();
    for (const T& one : some) {
        from = std::find(from, all.end(), one);
        if (from == all.end()) return false;
        ++from;
    }
    return true;
}

} // namespace

TEST_CASE("what-ifs that are stopped say so, and what they have said until then is what they say in the end") {
    std::size_t cut_short = 0, kept = 0;
    for (std::uint64_t seed = 0; seed < rounds(12); ++seed) {
        dice d(seed + 830'000);
        const auto r = request_to_ask_about(d);
        if (!r) continue;
        const cutting_request asked{r->specs, r->rules, {}};
        const limit_steps steps = coarse_steps(r->meat);
        CAPTURE(seed);
        const auto check = [&](const auto& ask) {
            const auto all = ask(search_limits{});
            CHECK(all.ended == search_end::by_itself);
            for (const std::size_t times : {1U, 4U, 30U, 200U}) {
                std::size_t left = times;
                const auto some = ask(asked_at_most(left));
                CAPTURE(times);
                const bool part = is_part_of(some, all);
                CHECK(part);
                if (some.ended == search_end::by_itself)
                    CHECK(some.size() == all.size());
                else
                    CHECK(left == 0);
                cut_short += some.ended == search_end::stopped;
                kept += some.ended == search_end::stopped && !some.empty();
            }
        };
        check([&](const search_limits& l) { return nearest_feasible(r->meat, asked, by_count, steps, l); });
        check([&](const search_limits& l) { return one_more_portion(r->meat, asked, by_count, steps, l); });
        check([&](const search_limits& l) { return nearest_portion_of(r->meat, asked, 0, steps, l); });
        check([&](const search_limits& l) { return limit_costs(r->meat, asked, by_count, steps, l); });
    }
    CHECK(cut_short > 20);
    CHECK(kept > 5);
}

} // namespace what_if_laws
