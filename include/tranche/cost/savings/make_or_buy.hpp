// Whether cutting the loin beat buying ready cut: the gross saving, the net saving, and what lies between them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/cutting_costs.hpp>
#include <tranche/cost/savings/edible_basis.hpp>
#include <tranche/cost/savings/ready_cut.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

/// Portions of one kind that were cut.
struct own_portions {
    std::string name{};
    micrograms weight{}; ///< of all of them
    std::size_t count = 0;
    fraction edible_share = 1.0; ///< what of them is wanted, 0 to 1

    friend bool operator==(const own_portions&, const own_portions&) = default;
};

/// The portions of a plan, one entry a spec, also for those that it has none of. Throws `invalid_input` for a bad basis.
/// O(slabs). Weights in whole micrograms, edible shares 0 to 1. Counts of the basis are shares of a tissue's mass, 0 to
/// 1, and not all zero.
[[nodiscard]] inline std::vector<own_portions> own_portions_of(const cutting_plan& cuts,
                                                               const edible_basis& basis = {}) {
    validate(basis);
    std::vector<own_portions> own(cuts.specs.size());
    std::vector<by_tissue<micrograms>> kept(own.size());
    for (const slab& s : cuts.slabs) {
        if (s.kind != slab_kind::portions) continue;
        own[s.option].weight += s.weight();
        own[s.option].count += static_cast<std::size_t>(cuts.spec_of(s).pieces);
        for (const tissue t : all_tissues) kept[s.option][t] += s.kept[t];
    }
    for (std::size_t s = 0; s < own.size(); ++s) {
        own[s].name = cuts.specs[s].name;
        if (own[s].weight.count > 0) own[s].edible_share = edible_share(detail::shares_of(kept[s]), basis);
    }
    return own;
}

/// What a line of a saving is about.
enum class savings_part {
    replaced,       ///< what would have been bought ready cut
    other_portions, ///< portions that it does not replace
    by_product,
    loss, ///< purge, cutting loss, what is unaccounted for
    paid,
    labour,
    packaging,
    freezing,
    knife_wear
};

/// One line of the net saving, or one step to it from the gross saving. The weight is zero where it says nothing.
template <currency C>
struct savings_line {
    savings_part part{};
    std::string text{};
    micrograms weight{};
    amount<C> value{};

    friend bool operator==(const savings_line&, const savings_line&) = default;
};

/// With r the ready-cut price, p the price paid, W the weight bought, R the weight of the portions replaced, s and S what
/// is wanted of a pound of them and of a ready-cut one, V the own value of everything else (other portions, loose meat,
/// trim) and K the costs of cutting:
/// - gross saving: r W - p W, which takes every pound bought for a pound of steak;
/// - net saving: r R s/S + V - p W - K, which puts the same weight of what is wanted on both sides.
/// "Without the end" leaves the other portions, such as the steaks of the sirloin end, out of V.
///
/// Holding the cost of making against that of buying is common practice, no source.
template <currency C>
struct savings {
    std::string against{}; ///< the name of the ready-cut meat
    amount<C> gross_saving{}, net_saving{}, net_saving_without_others{};
    std::vector<savings_line<C>> lines;       ///< add up to `net_saving`, exactly
    std::vector<savings_line<C>> differences; ///< `gross_saving` and these add up to `net_saving`, exactly
    savings_terms<C> terms{};                 ///< for break-evens and what-ifs, not rounded
    fraction own_edible_share = 1.0;          ///< s
    fraction ready_edible_share = 1.0;        ///< S

    friend bool operator==(const savings&, const savings&) = default;
};

/// What a comparison with ready-cut meat goes by, besides what is compared.
template <currency C>
struct make_or_buy_terms {
    price_list<C> prices{};   ///< of portions that are not replaced; those not named there are worth nothing
    cutting_costs<C> costs{}; ///< of cutting them oneself
    rounding how = rounding::half_even;

    friend bool operator==(const make_or_buy_terms&, const make_or_buy_terms&) = default;
};

namespace detail {

template <currency C>
void validate(const ready_cut<C>& ready, const std::vector<own_portions>& own) {
    detail::require_monetary<C>(ready.price, ready.name + ": price", "/kg");
    for (const std::string& name : ready.replaces)
        if (std::none_of(own.begin(), own.end(), [&](const own_portions& o) { return o.name == name; }))
            throw invalid_input(ready.name + ": replaces", '"' + name + '"', "the name of a cut that is there");
    if (ready.edible_share && !(*ready.edible_share > 0.0 && *ready.edible_share <= 1.0))
        throw invalid_input(ready.name + ": edible_share", detail::shown(*ready.edible_share),
                            "a share above 0, at most 1");
}

template <currency C>
[[nodiscard]] bool replaces(const ready_cut<C>& ready, const own_portions& own) {
    return ready.replaces.empty() ||
           std::find(ready.replaces.begin(), ready.replaces.end(), own.name) != ready.replaces.end();
}

/// Makes the portions weigh what is usable in the test, to the microgram.
template <currency C>
void fit_to_usable(std::vector<own_portions>& own, const yield_test<C>& test) {
    micrograms all;
    for (const own_portions& o : own) {
        if (o.weight < micrograms{}) throw invalid_input(o.name + ": weight", to_mass(o.weight), "zero or more");
        all += o.weight;
    }
    const micrograms rest = test.usable - all, off{rest.count < 0 ? -rest.count : rest.count};
    if (own.empty() ? off.count > 0 : off.count > static_cast<std::int64_t>(own.size() + test.lines.size()))
        throw invalid_input("portions", sentence(to_mass(all)) + " in all",
                            sentence("the usable weight of the test, ") + to_mass(test.usable) + "; they differ by " +
                                to_mass(off));
    if (off.count > 0)
        std::max_element(own.begin(), own.end(), [](const auto& a, const auto& b) {
            return a.weight < b.weight;
        })->weight += rest;
}

/// What parts of a mass are worth at one price, so that they add up to what the whole is worth, exactly: each is the
/// difference of two rounded sums, within one minor unit of its own worth.
template <currency C>
class running_worth {
public:
    running_worth(unit_price<C> price, rounding how) : price_(price), how_(how) {}
    [[nodiscard]] amount<C> next(micrograms weight) {
        mass_ += weight;
        const amount<C> before = sum_;
        sum_ = rounded<C>(to_mass(mass_) * price_, how_, "worth of a part");
        return sum_ - before;
    }

private:
    unit_price<C> price_;
    rounding how_;
    micrograms mass_{};
    amount<C> sum_{};
};

/// The costs of cutting as lines, those that are zero left out.
template <currency C>
[[nodiscard]] std::vector<savings_line<C>> cost_lines(const cutting_costs<C>& costs, std::size_t count,
                                                      micrograms weight, rounding how) {
    std::vector<savings_line<C>> lines;
    const auto add = [&](savings_part part, std::string text, micrograms of, money<C> value) {
        if (value > money<C>{})
            lines.push_back({part, std::move(text), of, -rounded<C>(value, how, "cost of cutting")});
    };
    add(savings_part::labour, "work: " + to_text(costs.time) + " at " + to_text(costs.pay), {}, costs.labour());
    add(savings_part::packaging, "packaging of " + std::to_string(count) + (count == 1 ? " portion" : " portions"), {},
        static_cast<double>(count) * costs.packaging);
    add(savings_part::freezing, "freezing", to_micrograms(costs.frozen * to_mass(weight)),
        costs.frozen * to_mass(weight) * costs.freezing);
    add(savings_part::knife_wear, "wear of the knife", {}, costs.knife_wear);
    return lines;
}

} // namespace detail

/// Compares a yield test with buying ready cut; `own` are the kinds of portions that its usable parts are. Portions that
/// are not replaced are worth what `by.prices` says (those not named there: nothing), by-products what they were credited
/// in the test. Where nothing wanted is in the portions replaced, no ready-cut meat is needed for it.
///
/// Throws `invalid_input` for a bad price, cost or share, a name in `replaces` that is no kind of portion, portions that do
/// not weigh what is usable in the test (a microgram a kind or line comes from rounding and goes to the heaviest kind), and a
/// sum beyond 64 bits of minor units. O(lines + kinds × names). Prices, times, wages and sums are finite and zero or
/// more, edible shares 0 to 1 (of ready-cut meat above 0). Amounts are rounded to the minor unit as `how` says, line by
/// line.
template <currency C>
[[nodiscard]] savings<C> make_or_buy(const ready_cut<C>& ready, std::vector<own_portions> own,
                                     const yield_test<C>& test, const make_or_buy_terms<C>& by = {}) {
    const auto& [prices, costs, how] = by;
    validate(prices);
    validate(costs);
    detail::validate(ready, own);
    savings<C> result;
    result.against = ready.name;
    savings_terms<C>& terms = result.terms;
    terms = {.bought = test.purchase,
             .ready_price = ready.price,
             .time = costs.time,
             .pay = costs.pay,
             .scale_tolerance = test.scale_tolerance};
    detail::fit_to_usable(own, test);

    micrograms replaced, all;
    mass wanted{};
    std::size_t count = 0;
    for (const own_portions& o : own) {
        detail::require_share(o.edible_share, o.name + ": edible_share");
        all += o.weight;
        count += o.count;
        if (!detail::replaces(ready, o)) continue;
        replaced += o.weight;
        wanted += detail::unfused(o.edible_share * to_mass(o.weight));
    }
    if (replaced.count > 0) result.own_edible_share = wanted / to_mass(replaced);
    result.ready_edible_share = ready.edible_share.value_or(result.own_edible_share);
    terms.portions = to_mass(all);
    terms.equivalent = ready.edible_share ? wanted / *ready.edible_share : to_mass(replaced);
    terms.costs_of_portions = costs.of_portions(static_cast<double>(count), to_mass(all));
    terms.costs_of_loin = costs.knife_wear;

    // Every part that was paid for, once at what it is worth and once as a pound of steak.
    detail::running_worth<C> as_steak(ready.price, how);
    const auto bought_ready = rounded<C>(ready.price * terms.equivalent, how, "worth of the portions");
    const amount<C> steak = as_steak.next(replaced);
    const micrograms equivalent = ready.edible_share ? to_micrograms(terms.equivalent) : replaced;
    result.lines.push_back({savings_part::replaced,
                            (ready.edible_share ? "what is wanted, as " : "the same portions as ") + ready.name,
                            equivalent, bought_ready});
    amount<C> of_others;
    for (const own_portions& o : own) {
        if (o.weight.count == 0 || detail::replaces(ready, o)) continue;
        money<C> worth{};
        if (const auto price = prices.portions.find(o.name); price != prices.portions.end())
            worth = detail::unfused(to_mass(o.weight) * price->second.by_weight) +
                    detail::unfused(static_cast<double>(o.count) * price->second.each);
        terms.other_portions += worth;
        const auto value = rounded<C>(worth, how, "worth of the portions");
        of_others += value;
        result.lines.push_back({savings_part::other_portions, o.name + " at its own value", o.weight, value});
        result.differences.push_back(
            {savings_part::other_portions, o.name + ": at its own value", o.weight, value - as_steak.next(o.weight)});
    }
    for (const yield_line<C>& line : test.lines) {
        if (line.part.role != part_role::by_product) continue;
        terms.by_products += detail::unfused(to_mass(line.weight) * line.part.value);
        result.lines.push_back({savings_part::by_product, line.part.name, line.weight, line.credit});
        result.differences.push_back({savings_part::by_product, line.part.name + ": at its credit", line.weight,
                                      line.credit - as_steak.next(line.weight)});
    }
    for (const yield_line<C>& line : test.lines)
        if (line.part.role == part_role::loss && line.weight.count != 0)
            result.differences.push_back(
                {savings_part::loss, line.part.name + (line.weight.count > 0 ? ": worth nothing" : ": not paid for"),
                 line.weight, -as_steak.next(line.weight)});
    if (bought_ready != steak)
        result.differences.push_back({savings_part::replaced,
                                      bought_ready > steak ? "it takes more ready-cut meat for what is wanted"
                                                           : "it takes less ready-cut meat for what is wanted",
                                      equivalent - replaced, bought_ready - steak});
    result.lines.push_back({savings_part::paid, "paid for the whole loin", test.whole, -test.paid});
    for (const savings_line<C>& line : detail::cost_lines(costs, count, all, how)) {
        result.lines.push_back(line);
        result.differences.push_back(line);
    }

    for (const savings_line<C>& line : result.lines) result.net_saving += line.value;
    result.net_saving_without_others = result.net_saving - of_others;
    result.gross_saving = rounded<C>(to_mass(test.whole) * ready.price, how, "worth of the loin") - test.paid;
    validate(terms);
    return result;
}

/// Compares a settled plan with buying ready cut, on the basis of what is wanted of either. `settled` is the bill of
/// `cuts`. Prices are zero or more, shares 0 to 1. Throws as the comparison of a yield test does, and for a bad basis.
/// O(slabs + lines). Money by mass and, in sums, whole minor units.
template <currency C>
[[nodiscard]] savings<C> make_or_buy(const ready_cut<C>& ready, const cutting_plan& cuts, const bill<C>& settled,
                                     const make_or_buy_terms<C>& by = {}, const edible_basis& basis = {}) {
    return make_or_buy(ready, own_portions_of(cuts, basis), settled.test, by);
}

} // namespace tranche
