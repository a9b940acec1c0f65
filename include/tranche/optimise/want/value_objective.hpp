// What a plan is worth at the prices of a list, as an objective.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/cut/price_list.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// score = worth of portions, loose meat and trim at the prices of a list, less the labour on slabs of portions, in whole
/// billionths of the list's currency. Whatever the currency it is the same type, so that a program that plans in several of
/// them compiles its searches once; `value_objective` also knows which.
class worth_objective {
public:
    using score_type = std::int64_t;

    /// Throws `invalid_input` for a missing or bad price, and for values beyond 4e9 currency units. Prices are by mass
    /// or by the piece.
    template <currency C>
    worth_objective(const cutting_problem& problem, const price_list<C>& prices) {
        validate(prices);
        const profile& meat = problem.meat();
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            per_option& v = options_.emplace_back();
            portion_price<C> price;
            if (problem.is_portion(o))
                price = prices.of(problem.spec_of(o).name);
            else
                price.by_weight = prices.of(problem.rules().loose[o].goes_to);

            by_tissue<double> kept_rate, trim_rate; // billionths of the currency per microgram
            for (const tissue t : all_tissues) {
                kept_rate[t] = price.by_weight.value();
                trim_rate[t] = prices.of(problem.rules().trim_goes_to[t]).value();
                const double rate = std::max(std::abs(kept_rate[t]), std::abs(trim_rate[t]));
                of_meat_ = std::max(of_meat_, rate * static_cast<double>(meat.total().count));
            }
            double each = detail::unfused(price.each.value() * problem.pieces(o) * billionths);
            if (problem.is_portion(o))
                each -= detail::unfused(prices.labour.of(problem.spec_of(o)).value() * billionths);
            const double slabs = static_cast<double>(meat.cells()) / static_cast<double>(problem.window(o).least_cells);
            of_slabs_ = std::max(of_slabs_, std::abs(each) * (slabs + 1.0)); // one more without a kerf
            require_room(1.0);
            v.each = each;
            v.constant = std::llround(each);
            v.priced = price.by_weight.value();
            if (const std::size_t same = like(problem, o); same < o) { // cuts that are trimmed alike and cost alike
                v.front = options_[same].front;
                v.back = options_[same].back;
                continue;
            }
            // Worth of what lies in front of a place, from the masses kept by then.
            const auto worth = [&](detail::profile_place at, const by_tissue<std::int64_t>& kept) {
                double sum = 0.0;
                for (const tissue t : all_tissues) {
                    const auto trimmed = static_cast<double>(at.in(meat.cumulative(t)) - kept[t]);
                    sum += detail::unfused(static_cast<double>(kept[t]) * kept_rate[t]) +
                           detail::unfused(trimmed * trim_rate[t]);
                }
                return std::llround(sum);
            };
            const trim_spec& trim = problem.trim(o);
            const length kerf = problem.kerf(o);
            v.front.resize(meat.cells() + 1);
            if (kerf > length{}) v.back.resize(meat.cells() + 1);
            by_tissue<std::int64_t> kept; // in front of cell i
            std::size_t to = 1;           // the first cut whose kerf starts in cell i or behind it
            for (std::size_t i = 0; i < meat.cells(); ++i) {
                v.front[i] = worth({i, 0.0}, kept);
                for (; to < v.back.size(); ++to) {
                    const detail::profile_place at = detail::profile_place::of(meat, meat.position(to) - kerf);
                    if (at.cell != i) break;
                    by_tissue<std::int64_t> kept_there = kept;
                    for (const tissue t : all_tissues)
                        kept_there[t] += at.part_of(detail::kept_in_cell(meat, i, t, trim));
                    v.back[to] = worth(at, kept_there);
                }
                for (const tissue t : all_tissues) kept[t] += detail::kept_in_cell(meat, i, t, trim);
            }
            v.front.back() = worth({meat.cells() - 1, 1.0}, kept);
            if (!v.back.empty()) v.back.back() = v.front.back(); // behind the sirloin face there is nothing to cut
        }
    }

    /// What a slab of `option` scores for its start at `from`, in the unit of the score: a slab is worth opening +
    /// closing. Indices as for `slab_score`, not checked; throws nothing.
    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const {
        return -options_[option].front[from];
    }
    /// The same for its end at `to`; not checked, throws nothing.
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const {
        const per_option& v = options_[option];
        return (v.back.empty() ? v.front[to] : v.back[to]) + v.constant;
    }

    /// From now on everything weighs `ratio` (above zero) times the profile: a score is then the worth divided by the
    /// ratio, which ranks plans alike, and a price by the piece counts 1/ratio as much. Throws `invalid_input` for a
    /// ratio that is not above zero and finite, or that makes values exceed 4e9 currency units. O(options).
    void set_mass_ratio(double ratio) {
        detail::require_positive(ratio, "mass_ratio");
        require_room(ratio);
        for (per_option& v : options_) v.constant = std::llround(v.each / ratio);
    }

protected:
    static constexpr double billionths = 1e9; // a price in 1/kg is also billionths per microgram

private:
    /// Sums of scores on the way add the worth of all meat up to twice, which 64 bits then hold as well.
    void require_room(double mass_ratio) const {
        const double all = of_meat_ + of_slabs_ / mass_ratio;
        if (!(all < 4e18)) throw invalid_input("prices", detail::shown(all / billionths), "values below 4e9 in all");
    }

    /// The first option whose kilogram is trimmed alike and worth the same, with the same kerf.
    [[nodiscard]] std::size_t like(const cutting_problem& problem, std::size_t o) const {
        std::size_t same = 0;
        while (same < o && !(options_[same].priced == options_[o].priced && problem.trim(same) == problem.trim(o) &&
                             problem.kerf(same) == problem.kerf(o)))
            ++same;
        return same;
    }

    struct per_option {
        std::vector<std::int64_t> front, back; // cumulative worth; back only where there is a kerf
        std::int64_t constant = 0;
        double each = 0.0, priced = 0.0; // the constant before it was divided by a mass ratio; of a kilogram
    };
    std::vector<per_option> options_;
    double of_meat_ = 0.0, of_slabs_ = 0.0; // what no plan exceeds, in billionths of the currency
};

/// `worth_objective` in one currency, whose scores are money.
template <currency C>
class value_objective : public worth_objective {
public:
    /// Throws as `worth_objective` does. Prices are by mass or by the piece.
    value_objective(const cutting_problem& problem, const price_list<C>& prices) : worth_objective(problem, prices) {}

    /// A score as money. In billionths of the currency before, in the currency after, of any sign. Throws nothing.
    [[nodiscard]] static money<C> worth(score_type s) {
        return money<C>::from_value(static_cast<double>(s) / billionths);
    }
};

} // namespace tranche
