// Where each unit of money went: what was paid, part by part, what came back of it, and what is left.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/units/amount.hpp>

namespace tranche {

/// One step: money out (negative) or back, and where that leads. A total repeats the level so far.
template <currency C>
struct cost_step {
    savings_part part{};
    std::string text{};
    micrograms weight{}; ///< zero where it says nothing
    amount<C> change{};  ///< of a total: the level
    amount<C> level{};   ///< after the step
    bool total = false;

    friend bool operator==(const cost_step&, const cost_step&) = default;
};

namespace detail {

/// The steps so far, each from the level of the one before.
template <currency C>
class money_steps {
public:
    void step(savings_part part, const std::string& text, micrograms weight, amount<C> change) {
        const amount<C> before = steps_.empty() ? amount<C>{} : steps_.back().level;
        steps_.push_back({part, text, weight, change, before + change, false});
    }
    void total(savings_part part, const std::string& text, micrograms weight) {
        steps_.push_back({part, text, weight, steps_.back().level, steps_.back().level, true});
    }

    /// What was paid, part by part, and the total of it. The meat that is no portion stands at the price paid; the portions
    /// carry the rest, and so the rounding.
    void paid(const yield_test<C>& test, rounding how) {
        micrograms by_products;
        std::vector<cost_step<C>> lost;
        amount<C> elsewhere;
        const auto paid_for = [&](micrograms weight) {
            const auto paid = rounded<C>(to_mass(weight) * test.purchase.price, how, "paid for a part");
            elsewhere += paid;
            return -paid;
        };
        for (const yield_line<C>& line : test.lines) {
            if (line.part.role == part_role::by_product) by_products += line.weight;
            if (line.part.role == part_role::loss && line.weight.count != 0)
                lost.push_back({savings_part::loss,
                                (line.weight.count > 0 ? "paid for " : "not paid for: ") + line.part.name, line.weight,
                                paid_for(line.weight)});
        }
        const amount<C> for_by_products = paid_for(by_products);
        if (const amount<C> carried = elsewhere - test.paid; test.usable.count != 0 || carried != amount<C>{})
            step(savings_part::paid, test.usable.count != 0 ? "paid for the meat of the portions" : "rounding",
                 test.usable, carried);
        if (by_products.count != 0)
            step(savings_part::paid, "paid for what became by-products", by_products, for_by_products);
        for (const cost_step<C>& l : lost) step(l.part, l.text, l.weight, l.change);
        total(savings_part::paid, "paid for the whole loin", test.whole);
    }

    [[nodiscard]] std::vector<cost_step<C>> done() { return std::move(steps_); }

private:
    std::vector<cost_step<C>> steps_;
};

} // namespace detail

/// From nothing to the net saving: the price paid for the meat of the portions, of the by-products, and for what was
/// lost in cutting and as purge (each its weight at the price paid); the total paid; then the credits of the by-products by
/// destination, the worth of the portions, and the costs of cutting; the total saved or lost.
///
/// To the minor unit, the first total is what the bill says was paid, the credits add up to its credit, and the last
/// total is `saved.net_saving`. `test` is the one that `saved` was made from. Throws `invalid_input` for another one,
/// and for sums beyond 64 bits. O(lines). Weights are in whole micrograms.
template <currency C>
[[nodiscard]] std::vector<cost_step<C>> cost_breakdown(const savings<C>& saved, const yield_test<C>& test,
                                                       rounding how = rounding::half_even) {
    detail::money_steps<C> flow;
    flow.paid(test, how);
    for (const savings_part part :
         {savings_part::by_product, savings_part::other_portions, savings_part::replaced, savings_part::labour,
          savings_part::packaging, savings_part::freezing, savings_part::knife_wear})
        for (const savings_line<C>& line : saved.lines)
            if (line.part == part)
                flow.step(part, (part == savings_part::by_product ? "credit: " : "") + line.text, line.weight,
                          line.value);
    flow.total(savings_part::replaced, saved.net_saving < amount<C>{} ? "lost by cutting" : "saved by cutting", {});
    std::vector<cost_step<C>> steps = flow.done();
    if (steps.back().level != saved.net_saving)
        throw invalid_input("test", to_text(test.paid) + " paid", "the test that the saving was made from");
    return steps;
}

/// The same of a cutting test by itself, with nothing to hold it against: what was paid, part by part, the total paid,
/// the credit of each by-product, and what is left for the usable meat to carry, or for nothing: the last total is the
/// primary value of the test as money out, to the minor unit. Throws `invalid_input` for sums beyond 64 bits. O(lines).
/// Money is in whole minor units, rounded as `how` says, weights in whole micrograms.
template <currency C>
[[nodiscard]] std::vector<cost_step<C>> cost_breakdown(const yield_test<C>& test, rounding how = rounding::half_even) {
    detail::money_steps<C> flow;
    flow.paid(test, how);
    for (const yield_line<C>& line : test.lines)
        if (line.credit != amount<C>{})
            flow.step(savings_part::by_product, "credit: " + line.part.name, line.weight, line.credit);
    flow.total(savings_part::paid,
               test.usable.count != 0 ? "left for the portions to carry" : "left for nothing to carry", test.usable);
    return flow.done();
}

} // namespace tranche
