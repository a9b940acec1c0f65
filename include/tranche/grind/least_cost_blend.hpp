// The cheapest blend of grind within supplies, at a fat content that is wanted and never over the legal limit.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/grind/blend.hpp>
#include <tranche/grind/detail/blend_problem.hpp>
#include <tranche/grind/detail/blend_remedies.hpp>
#include <tranche/grind/detail/free_batch.hpp>
#include <tranche/units/detail/same_weight.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// What a blend shall be.
struct blend_request {
    std::optional<mass> batch{}; ///< above zero; none: as much as the supplies allow
    fat_range fat{};             ///< for one fat content the ends are equal

    friend bool operator==(const blend_request&, const blend_request&) = default;
};

namespace detail {

/// Prices as whole numbers below 2^59 on one binary scale: exact down to 1/64 of the dearest, and to 10^-17 of it below.
template <currency C>
void set_prices(blend_problem& p, const std::vector<grind_source<C>>& sources) {
    double dearest = 0.0;
    for (const grind_source<C>& s : sources) dearest = std::max(dearest, std::abs(s.price.value()));
    const int scale = dearest > 0.0 ? 58 - std::ilogb(dearest) : 0;
    for (std::size_t i = 0; i < sources.size(); ++i)
        p.sources[i].price = std::llround(std::scalbn(sources[i].price.value(), scale));
}

/// A supply in whole micrograms, its ends rounded outwards: what just fills a batch in ounces has to fill it in micrograms,
/// to which each mass rounds by itself.
[[nodiscard]] inline quantity_range<std::int64_t> counted_supply(const quantity_range<mass>& supply,
                                                                 const std::string& name) {
    const auto counted = [&](mass m, const char* field, int outwards) {
        const std::int64_t nearest = to_micrograms(m, (name + field).c_str()).count;
        const double off = outwards * (m.value() * micrograms_in_a_kilogram - static_cast<double>(nearest));
        return off > weight_noise * static_cast<double>(nearest) ? nearest + outwards : nearest;
    };
    return {counted(supply.min, ": supply.min", -1), counted(supply.max, ": supply.max", +1)};
}

/// Sources without an upper end may give all of `unlimited_supply`.
template <currency C>
[[nodiscard]] blend_problem problem_of(const std::vector<grind_source<C>>& sources, const blend<C>& asked,
                                       std::int64_t unlimited_supply) {
    blend_problem p;
    for (const grind_source<C>& s : sources) {
        const bool open = std::isinf(s.supply.max.value());
        const auto [least, most] = counted_supply({s.supply.min, open ? s.supply.min : s.supply.max}, s.name);
        p.sources.push_back({.fat = fat_parts(s.fat),
                             .price = 0,
                             .least = least,
                             .most = open ? std::max(most, unlimited_supply) : most});
    }
    set_prices(p, sources);
    p.batch = asked.batch.count;
    p.leanest = fat_parts(asked.wanted.min);
    p.fattest = fat_parts(asked.most_fat());
    return p;
}

[[nodiscard]] inline std::int64_t counted_mass(wide_integer mass, const char* field) {
    if (mass > wide_integer{9'200'000'000'000'000'000})
        throw invalid_input(field, "more than 9.2 million tonnes", "a mass that can be counted in micrograms");
    return static_cast<std::int64_t>(mass);
}

/// Checks what was given and starts an answer.
template <currency C>
[[nodiscard]] blend<C> asked_for(const std::vector<grind_source<C>>& sources, const fat_range& fat,
                                 const legal_fat_limit& limit) {
    validate(sources);
    validate(fat);
    validate(limit);
    blend<C> result;
    result.sources = sources;
    result.wanted = fat;
    result.limit = limit;
    if (fat_parts(fat.min) > fat_parts(limit.most)) result.outcome = blend_outcome::over_the_limit;
    return result;
}

/// Lines and sums from the masses.
template <currency C>
void fill_in(blend<C>& b, const blend_problem& p, const std::vector<std::int64_t>& masses, rounding how) {
    for (std::size_t i = 0; i < masses.size(); ++i) {
        const micrograms weight{masses[i]};
        const money<C> worth = detail::unfused(to_mass(weight) * b.sources[i].price);
        b.lines.push_back({weight, rounded<C>(worth, how, (b.sources[i].name + ": cost").c_str())});
        b.cost += b.lines.back().cost;
        b.unrounded_cost += worth;
    }
    b.fat = fat_share(p.fat_of(masses), b.batch.count);
}

/// The dual prices: of the fat from the last exchange, of the mass from the dearest meat that is in by choice.
template <currency C>
void price_rows(blend<C>& b, const blend_problem& p, const blend_problem::solution& s) {
    const auto fat = [&](std::size_t i) { return static_cast<double>(p.sources[i].fat) / double{pure_fat}; };
    if (s.last) {
        const auto [fatter, leaner] = *s.last;
        b.shadow_price_of_fat = (b.sources[leaner].price - b.sources[fatter].price) / (fat(fatter) - fat(leaner));
    }
    std::optional<unit_price<C>> dearest_in, cheapest_out;
    for (std::size_t i = 0; i < p.sources.size(); ++i) {
        const unit_price<C> key = b.sources[i].price + detail::unfused(fat(i) * b.shadow_price_of_fat);
        if (s.masses[i] > p.sources[i].least && !(dearest_in && *dearest_in >= key)) dearest_in = key;
        if (s.masses[i] < p.sources[i].most && !(cheapest_out && *cheapest_out <= key)) cheapest_out = key;
    }
    if (const auto price = dearest_in ? dearest_in : cheapest_out) b.price_without_fat = *price;
}

template <currency C>
void add_remedy(blend<C>& b, std::size_t source, wide_integer more) {
    if (more > std::numeric_limits<std::int64_t>::max()) return;
    const micrograms m{static_cast<std::int64_t>(more)};
    b.remedies.push_back({source, m, to_mass(m) * b.sources[source].price});
}

template <currency C>
void sort_remedies(blend<C>& b) {
    std::stable_sort(b.remedies.begin(), b.remedies.end(),
                     [](const auto& one, const auto& other) { return one.cost < other.cost; });
}

/// The answer for a batch of a given mass, in `b.batch`.
template <currency C>
void blend_batch(blend<C>& b, const blend_problem& p, rounding how) {
    if (const wide_integer over = p.least_sum() - p.batch; over > 0) {
        b.outcome = blend_outcome::too_much;
        b.missing.count = counted_mass(over, "supply.min of all sources");
        return;
    }
    if (const wide_integer missing = p.batch - p.most_sum(); missing > 0) {
        b.outcome = blend_outcome::too_little;
        b.missing.count = static_cast<std::int64_t>(missing);
        for (std::size_t i = 0; i < p.sources.size(); ++i) {
            blend_problem with_more = p;
            with_more.sources[i].most += b.missing.count;
            if (reaches_range(with_more)) add_remedy(b, i, missing);
        }
        return sort_remedies(b);
    }
    b.leanest = fat_share(p.fat_of(p.leanest_fill()), p.batch);
    b.fattest = fat_share(p.fat_of(p.fattest_fill()), p.batch);
    const bool too_fat = p.fat_of(p.leanest_fill()) > p.fat_allowed();
    if (too_fat || p.fat_of(p.fattest_fill()) < p.fat_needed()) {
        b.outcome = too_fat ? blend_outcome::too_fat : blend_outcome::too_lean;
        const blend_problem as_fat = too_fat ? p : turned(p);
        for (std::size_t i = 0; i < p.sources.size(); ++i)
            if (const auto more = more_to_be_lean_enough(as_fat, i)) add_remedy(b, i, *more);
        return sort_remedies(b);
    }
    const blend_problem::solution s = p.solved();
    fill_in(b, p, s.masses, how);
    price_rows(b, p, s);
}

/// A blend of open mass that is out of range whatever is done within the supplies. Where nothing could go in, the remedies
/// are those that let everything in.
template <currency C>
void explain_open(blend<C>& b, const blend_problem& p, sized_blend s) {
    if (s.batch() == 0) {
        for (std::size_t i = 0; i < p.sources.size(); ++i) s.masses[i] = p.sources[i].most;
        const wide_integer fat = p.fat_of(s.masses), over = fat - p.fattest * s.batch();
        s.off = over > 0 ? over : fat - p.leanest * s.batch();
    }
    const bool too_fat = s.off > 0;
    b.outcome = too_fat ? blend_outcome::too_fat : blend_outcome::too_lean;
    const blend_problem as_fat = too_fat ? p : turned(p);
    if (too_fat)
        b.leanest = leanest_of_any_mass(p);
    else
        b.fattest = 1.0 - leanest_of_any_mass(as_fat);
    for (std::size_t i = 0; i < p.sources.size(); ++i)
        if (const auto more = more_to_be_lean_enough(as_fat, i, too_fat ? s.off : -s.off)) add_remedy(b, i, *more);
    sort_remedies(b);
}

} // namespace detail

/// The cheapest blend of these sources: minimise Σ price × weight, where the weights add up to the batch, each lies within
/// its supply, and the fat lies in the range asked for and under `limit`, which names its law. Without a batch, first as
/// much as possible (then supplies must have upper ends), then the cheapest of that mass.
///
/// The linear program is solved exactly in whole numbers: masses in micrograms (ends of supplies are rounded outwards, or
/// supplies in ounces would not fill their sum), fat contents in parts per billion (given ones are rounded to that). At most
/// two sources lie strictly between the ends of their supply; of those the leaner one takes the broken microgram, so that
/// the fat is never over the upper end, not by rounding either. It may be under the lower end by less than a microgram of
/// the batch. Among blends of equal cost, sources listed earlier come first.
///
/// Where there is no blend, `outcome` says why; that is a result. Throws `invalid_input` for bad sources, range, limit
/// or batch, for an open batch with a supply that has no upper end, and where the cost cannot be counted. O(sources²)
/// to begin with and O(sources) for each exchange, of which there is at most one for each pair of sources unless three
/// of them lie on one line of price over fat. Fat and limits are shares by mass, 0 to 1; masses are zero or more, in
/// whole micrograms; prices are any finite ones. Source of the method: the simplex method with bounds, any handbook of
/// linear programming.
template <currency C>
[[nodiscard]] blend<C> least_cost_blend(const std::vector<grind_source<C>>& sources, const blend_request& request,
                                        const legal_fat_limit& limit, rounding how = rounding::half_even) {
    blend<C> b = detail::asked_for(sources, request.fat, limit);
    if (request.batch) {
        b.batch = to_micrograms(*request.batch, "batch");
        if (b.batch.count <= 0) throw invalid_input("batch", detail::shown(*request.batch), "a mass above zero");
    } else {
        for (const grind_source<C>& s : sources)
            if (std::isinf(s.supply.max.value()))
                throw invalid_input(s.name + ": supply.max", "no upper end",
                                    "one, where as much as possible is asked for");
    }
    if (!b.made()) return b;
    detail::blend_problem p = detail::problem_of(sources, b, b.batch.count);
    if (!request.batch) {
        (void)detail::counted_mass(p.most_sum(), "supply.max of all sources");
        const detail::sized_blend most = detail::free_batch(p, false);
        if (p.most_sum() == 0) {
            b.outcome = blend_outcome::too_little;
            return b;
        }
        if (most.batch() == 0 || most.off > 0 || most.off < -detail::pure_fat) {
            detail::explain_open(b, p, most);
            return b;
        }
        p.batch = b.batch.count = static_cast<std::int64_t>(most.batch());
    }
    detail::blend_batch(b, p, how);
    return b;
}

} // namespace tranche
