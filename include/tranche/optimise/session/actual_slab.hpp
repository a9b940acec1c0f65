// A slab that has been cut, as against one that was planned: what it weighs, whether it keeps its limits, what to do if not.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// What to do with a slab that is cut.
enum class remedy {
    none,         ///< it is what it was meant to be
    trim_down,    ///< too heavy: take off what is above the upper limit
    another_spec, ///< too light, but within all limits of another spec
    to_loose      ///< too light for any spec: it goes where loose meat goes
};

/// One slab as it came off.
struct actual_slab {
    slab_kind kind = slab_kind::loose;
    std::size_t option = 0;              ///< what it was meant to be: index as in `slab`
    length start{}, thickness{}, kerf{}; ///< as believed once it was weighed
    length aimed{};                      ///< the thickness that was to be: of the plan, or what was set and the bias
    length thickness_spread{};           ///< standard deviation of the thickness
    bool slipped = false;                ///< so far from what was set that it told nothing of the cutter's hand
    micrograms weight{};                 ///< as it came off, before it was trimmed by itself
    mass portion{};                      ///< of each portion after trimming, by the profile's share; else zero
    mass off{};                          ///< how far a portion is above (+) its upper or below (-) its lower limit
    remedy to_do = remedy::none;
    std::size_t other_spec = 0; ///< for `another_spec`

    /// Whether it kept the limits of its cut. Throws nothing.
    [[nodiscard]] bool within() const { return off == mass{}; }
    /// Where the next slab starts, behind the kerf, in metres from the rib face, zero or more. Throws nothing.
    [[nodiscard]] length end() const { return start + thickness + kerf; }

    friend bool operator==(const actual_slab&, const actual_slab&) = default;
};

/// What a slab of portions becomes once it is weighed.
struct slab_use {
    enum class way {
        as_it_is,     ///< what it was meant to be, whatever it weighs
        trimmed_down, ///< to the upper limit; what comes off is trim
        halved,       ///< each portion cut in two
        other_cut,    ///< portions of another spec
        loose         ///< loose meat, of the first way there is to use it
    };
    way becomes = way::as_it_is;
    std::size_t spec = 0; ///< whose portions they are
    mass portion{};       ///< of each; zero for loose meat

    friend bool operator==(const slab_use&, const slab_use&) = default;
};

namespace detail {

/// The share of a slab [from, to) as it comes off the knife that one portion of an option is.
template <class = when_called>
[[nodiscard]] double portion_share(const cutting_problem& problem, const yield_table& whole, std::size_t option,
                                   profile_place from, profile_place to) {
    const auto kept = problem.front(option);
    const auto slab = static_cast<double>(to.in(whole.kept()) - from.in(whole.kept()));
    return slab > 0.0 ? static_cast<double>(to.in(kept)-from.in(kept)) / slab / problem.pieces(option) : 0.0;
}

/// How far a weight is outside of a range: zero inside.
template <class = when_called>
[[nodiscard]] mass outside(mass m, const quantity_range<mass>& limits) {
    return m > limits.max ? m - limits.max : m < limits.min ? m - limits.min : mass{};
}

/// What each portion weighs if the slab becomes the cut `spec`, trimmed as that is.
[[nodiscard]] inline mass portion_as(const actual_slab& s, std::size_t spec, const cutting_problem& problem,
                                     const yield_table& whole) {
    const profile& meat = problem.meat();
    return to_mass(s.weight) * portion_share(problem, whole, problem.loose_count() + spec,
                                             profile_place::of(meat, s.start),
                                             profile_place::of(meat, s.start + s.thickness));
}

/// Whether another spec would take the slab: it must like the thickness as well, and an order of cuts must let it come.
template <class = when_called>
[[nodiscard]] bool fit_for(const actual_slab& s, std::size_t spec, const cutting_problem& problem,
                           const yield_table& whole) {
    const cut_spec& other = problem.specs()[spec];
    const option_window& w = problem.window(problem.loose_count() + spec);
    const profile& meat = problem.meat();
    const bool muscle = meat.nearest(s.start) < w.past_from && meat.nearest(s.start + s.thickness) < w.past_to;
    if (!problem.rules().order.empty() && !problem.may_come(problem.loose_count() + spec)) return false;
    return muscle && other.thickness.contains(s.thickness) &&
           other.portion.contains(portion_as(s, spec, problem, whole));
}

/// Says what became of a slab of portions: its weights, and what to do if they are outside of the limits. Thickness is not
/// judged for what the slab was meant to be: it is there to be eaten.
template <class = when_called>
void judge(actual_slab& s, const cutting_problem& problem, const yield_table& whole) {
    s.portion = portion_as(s, s.option, problem, whole);
    s.off = outside(s.portion, problem.specs()[s.option].portion);
    s.to_do = s.off > mass{} ? remedy::trim_down : s.off < mass{} ? remedy::to_loose : remedy::none;
    if (s.to_do != remedy::to_loose) return;
    for (std::size_t spec = 0; spec < problem.specs().size(); ++spec)
        if (fit_for(s, spec, problem, whole)) {
            s.to_do = remedy::another_spec;
            s.other_spec = spec;
            return;
        }
}

/// What a slab of portions may become, what its remedy says first.
template <class = when_called>
[[nodiscard]] std::vector<slab_use> uses_of(const actual_slab& s, const cutting_problem& problem,
                                            const yield_table& whole) {
    std::vector<slab_use> uses;
    const auto others = [&] {
        for (std::size_t spec = 0; spec < problem.specs().size(); ++spec)
            if (spec != s.option && fit_for(s, spec, problem, whole))
                uses.push_back({slab_use::way::other_cut, spec, portion_as(s, spec, problem, whole)});
    };
    if (s.within()) uses.push_back({slab_use::way::as_it_is, s.option, s.portion});
    if (s.to_do == remedy::trim_down) {
        uses.push_back({slab_use::way::trimmed_down, s.option, problem.specs()[s.option].portion.max});
        const mass half = 0.5 * s.portion;
        for (const cut_spec& cut : problem.specs())
            if (cut.portion.max < unlimited<mass>() && cut.portion.contains(half)) {
                uses.push_back({slab_use::way::halved, s.option, half});
                break;
            }
    }
    others();
    if (s.to_do == remedy::to_loose || s.to_do == remedy::another_spec) uses.push_back({slab_use::way::loose});
    if (!s.within()) uses.push_back({slab_use::way::as_it_is, s.option, s.portion});
    return uses;
}

} // namespace detail

} // namespace tranche
