// What the engine needs to know of an objective, and the one that most of the named ways to plan use: the mass in portions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <memory>
#include <span>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/score.hpp>

namespace tranche {

/// An objective whose slab score is opening(option, from) + closing(option, to). The engine then needs one look at each
/// position and option, however wide the windows are. `kept_mass_objective` is one.
template <class O>
concept separable_objective = additive_score<typename O::score_type> &&
    requires(const O& objective, std::size_t option, std::size_t position) {
    { objective.opening(option, position) } -> std::same_as<typename O::score_type>;
    { objective.closing(option, position) } -> std::same_as<typename O::score_type>;
};

/// An objective that scores a slab [from, to) of an option as a whole: slab(option, from, to). The engine looks at every
/// allowed slab. A square of the weight's distance from a target is one; it is not separable.
template <class O>
concept whole_slab_objective = additive_score<typename O::score_type> &&
    requires(const O& objective, std::size_t option, std::size_t position) {
    { objective.slab(option, position, position) } -> std::same_as<typename O::score_type>;
};

namespace detail {

/// The terms of one option, for objectives that do not hand them out themselves.
template <separable_objective O>
struct slab_terms {
    const O* objective;
    std::size_t option;

    [[nodiscard]] auto opening(std::size_t from) const { return objective->opening(option, from); }
    [[nodiscard]] auto closing(std::size_t to) const { return objective->closing(option, to); }
};

/// What a loop over the positions of one option needs of an objective. An objective with a `terms_of(option)`, a small
/// thing to copy with an opening and a closing of its own, spares that loop the way to the option at every look.
template <separable_objective O>
[[nodiscard]] auto terms_of(const O& objective, std::size_t option) {
    if constexpr (requires {
                      objective.terms_of(option).opening(option);
                      objective.terms_of(option).closing(option);
                  })
        return objective.terms_of(option);
    else
        return slab_terms<O>{&objective, option};
}

} // namespace detail

/// An objective by the whole slab by which loose meat scores nothing: it says so by `static constexpr bool portions_only = true`.
/// The engine then does not ask for slabs of loose meat, which others may do: they score zero, or the type's default.
template <class O>
concept portions_objective = whole_slab_objective<O> && requires {
    requires bool(O::portions_only);
};

/// An objective whose loose meat is separable, whatever its portions are: one that is separable itself, one of portions only, or one
/// by the whole slab with loose_opening(option, from) + loose_closing(option, to) equal to slab(option, from, to) of each loose cut. Loose
/// meat has a window of all positions, so this is most of what there is to spare of the work of an objective by the whole slab.
template <class O>
concept separable_loose = separable_objective<O> || portions_objective<O> ||
    requires(const O& objective, std::size_t option, std::size_t position) {
    { objective.loose_opening(option, position) } -> std::same_as<typename O::score_type>;
    { objective.loose_closing(option, position) } -> std::same_as<typename O::score_type>;
};

namespace detail {

template <separable_loose O>
struct loose_slab_terms {
    const O* objective;
    std::size_t option;

    [[nodiscard]] auto opening(std::size_t from) const { return objective->loose_opening(option, from); }
    [[nodiscard]] auto closing(std::size_t to) const { return objective->loose_closing(option, to); }
};
template <class Score>
struct loose_scores_nothing {
    [[nodiscard]] Score opening(std::size_t /*from*/) const { return {}; }
    [[nodiscard]] Score closing(std::size_t /*to*/) const { return {}; }
};
/// The terms of a loose cut.
template <separable_loose O>
[[nodiscard]] auto loose_terms_of(const O& objective, std::size_t option) {
    if constexpr (separable_objective<O>)
        return terms_of(objective, option);
    else if constexpr (portions_objective<O>)
        return loose_scores_nothing<typename O::score_type>{};
    else
        return loose_slab_terms<O>{&objective, option};
}

} // namespace detail

/// An objective by the whole slab that is separable as long as a slab of portions stays in a band of weights: a price by weight
/// class, say, or a rate that changes at a limit. bands(option) gives the largest weight of each band but the last, in micrograms
/// of the slab, from light to heavy; a slab that weighs more than limit k - 1, and no more than limit k, scores
/// band_opening(option, k, from) + band_closing(option, k, to), which is slab(option, from, to). Its loose meat is separable as well.
/// Each band then takes as long as a cut of a separable objective, however wide the windows are.
template <class O>
concept banded_objective = whole_slab_objective<O> && separable_loose<O> &&
    requires(const O& objective, std::size_t option, std::size_t position) {
    { objective.bands(option) } -> std::convertible_to<std::vector<std::int64_t>>;
    { objective.band_opening(option, position, position) } -> std::same_as<typename O::score_type>;
    { objective.band_closing(option, position, position) } -> std::same_as<typename O::score_type>;
};

namespace detail {

template <class O>
concept objective_in_parts = separable_objective<O> || banded_objective<O>;

template <banded_objective O>
struct band_terms {
    const O* objective;
    std::size_t option, band;

    [[nodiscard]] auto opening(std::size_t from) const { return objective->band_opening(option, band, from); }
    [[nodiscard]] auto closing(std::size_t to) const { return objective->band_closing(option, band, to); }
};

/// The terms of an option, or of one of its bands where the objective has such.
template <objective_in_parts O>
[[nodiscard]] auto part_terms_of(const O& objective, std::size_t option, [[maybe_unused]] std::size_t band) {
    if constexpr (separable_objective<O>)
        return terms_of(objective, option);
    else
        return band_terms<O>{&objective, option, band};
}

/// The slabs of a problem for an objective: its own graph, or one with a lane for each band, the heaviest first, so that of equals
/// the earlier start is offered first.
template <class O>
[[nodiscard]] const slab_graph& graph_for(const cutting_problem& problem, [[maybe_unused]] const O& objective,
                                          [[maybe_unused]] slab_graph& room) {
    if constexpr (!banded_objective<O>)
        return problem.graph();
    else {
        const slab_graph& all = problem.graph();
        room = {all.start, all.end, all.loose_count, all.option_count, {}};
        room.loose_everywhere = all.loose_everywhere;
        for (const slab_lane& lane : all.lanes) {
            const std::size_t o = lane.option();
            if (!problem.is_portion(o)) {
                room.lanes.push_back(lane);
                continue;
            }
            const std::vector<std::int64_t> limits = objective.bands(o);
            constexpr std::int64_t none = std::numeric_limits<std::int64_t>::max() / 4;
            for (std::size_t k = limits.size() + 1; k > 0; --k)
                room.lanes.push_back(lane.of_band(k - 1, problem.front(o).data(), problem.back(o).data(),
                                                  k == 1 ? -none : limits[k - 2],
                                                  k > limits.size() ? none : limits[k - 1]));
        }
        return room;
    }
}

} // namespace detail

/// Either kind.
template <class O>
concept objective = separable_objective<O> || whole_slab_objective<O>;

/// The score of one slab under either kind of objective. In units of the objective. `option` is below `option_count()`,
/// and `from` below `to` are positions of the problem, 0 to `cells()`; nothing is checked. Throws what the objective
/// throws, which the library's do not.
template <objective O>
[[nodiscard]] typename O::score_type slab_score(const O& objective, std::size_t option, std::size_t from,
                                                std::size_t to) {
    if constexpr (separable_objective<O>)
        return objective.opening(option, from) + objective.closing(option, to);
    else
        return objective.slab(option, from, to);
}

namespace detail {

/// The option of a problem that a slab is of.
[[nodiscard]] inline std::size_t option_of(const cutting_problem& problem, const grid_slab& s) {
    return s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0);
}
/// What some slabs score together.
template <objective O>
[[nodiscard]] typename O::score_type score_of(const cutting_problem& problem, const O& objective,
                                              const std::vector<grid_slab>& slabs) {
    typename O::score_type score{};
    for (const grid_slab& s : slabs) score = score + slab_score(objective, option_of(problem, s), s.from, s.to);
    return score;
}

/// A bound on the number of portions that any plan can have. The slab at the sirloin face is counted by itself: with no
/// kerf behind it, it may cover fewer cells than the others.
[[nodiscard]] inline std::int64_t most_portions_possible(const cutting_problem& problem) {
    double most = 0.0, most_at_end = 0.0;
    for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o) {
        const double pieces = problem.pieces(o), least = static_cast<double>(problem.window(o).least_cells);
        most = std::max(most, pieces * static_cast<double>(problem.cells()) / least);
        most_at_end = std::max(most_at_end, pieces);
    }
    return static_cast<std::int64_t>(std::ceil(most + most_at_end));
}

} // namespace detail

/// score = mass_weight × (micrograms in portions) + count_weight × (number of portions), in whole numbers, so that ties
/// are ties. The two named makers below choose weights that make one count before the other. The problem must outlive the
/// objective.
class kept_mass_objective {
public:
    using score_type = std::int64_t;

    /// The terms of one option: cumulative masses times `mass_weight`, the problem's own tables where that is 1, zeros for
    /// loose meat.
    struct terms {
        const std::int64_t *front, *back;
        std::int64_t constant;

        /// What a slab scores for its start at position `from`, in the unit of the score; not checked. Throws nothing.
        [[nodiscard]] score_type opening(std::size_t from) const { return -front[from]; }
        /// The same for its end at `to`; not checked, throws nothing.
        [[nodiscard]] score_type closing(std::size_t to) const { return back[to] + constant; }
    };
    /// Those of `option`, which is below `option_count()` and not checked. Throws nothing.
    [[nodiscard]] const terms& terms_of(std::size_t option) const { return options_[option]; }
    /// What a slab of `option` scores for its start at `from`, in the unit of the score: a slab is worth opening +
    /// closing. Indices as for `slab_score`, not checked; throws nothing.
    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const {
        return options_[option].opening(from);
    }
    /// The same for its end at `to`; not checked, throws nothing.
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const { return options_[option].closing(to); }

    // A reference wrapper takes no temporary problem, and leaves a function that can be handed on.
    /// More portions first; among equal counts more mass in portions. Throws `invalid_input` for a loin too heavy for
    /// both to fit into 64 bits (beyond 100 t cut into thousands). Weights are whole micrograms.
    [[nodiscard]] static kept_mass_objective portions_then_mass(std::reference_wrapper<const cutting_problem> problem) {
        return kept_mass_objective(problem, 1, problem.get().meat().total().count + 1);
    }
    /// More mass in portions first, which is less waste; among equals more portions. Weights are whole micrograms;
    /// throws as `portions_then_mass`.
    [[nodiscard]] static kept_mass_objective mass_then_portions(std::reference_wrapper<const cutting_problem> problem) {
        // The same whatever the limits of cuts, as far as 64 bits allow: what-ifs compare scores.
        const std::int64_t by_limits = detail::most_portions_possible(problem) + 1,
                           by_cells = 100 * static_cast<std::int64_t>(problem.get().cells()) + 1;
        const bool room =
            static_cast<double>(by_cells) * static_cast<double>(problem.get().meat().total().count) < 1e18;
        return kept_mass_objective(problem, room ? by_cells : by_limits, 1);
    }

private:
    kept_mass_objective(const cutting_problem& problem, std::int64_t mass_weight, std::int64_t count_weight) {
        const auto most_portions = static_cast<double>(detail::most_portions_possible(problem));
        const double largest = static_cast<double>(mass_weight) * static_cast<double>(problem.meat().total().count) +
                               static_cast<double>(count_weight) * most_portions;
        if (!(largest < 4e18))
            throw invalid_input("loin", detail::shown(to_mass(problem.meat().total())),
                                "a loin light enough, or portions thick enough, to count in 64 bits");
        const std::int64_t* const zeros = owned(std::vector<std::int64_t>(problem.cells() + 1));
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            if (!problem.is_portion(o)) {
                options_.push_back({zeros, zeros, 0});
                continue;
            }
            const std::int64_t* const front = scaled(problem.front(o), mass_weight);
            const bool kerf = problem.back(o).data() != problem.front(o).data();
            options_.push_back(
                {front, kerf ? scaled(problem.back(o), mass_weight) : front, count_weight * problem.pieces(o)});
        }
    }

    [[nodiscard]] const std::int64_t* scaled(std::span<const std::int64_t> masses, std::int64_t by) {
        if (by == 1) return masses.data();
        std::vector<std::int64_t> column(masses.begin(), masses.end());
        for (std::int64_t& m : column) m *= by;
        return owned(std::move(column));
    }
    [[nodiscard]] const std::int64_t* owned(std::vector<std::int64_t> column) {
        return columns_.emplace_back(std::make_shared<const std::vector<std::int64_t>>(std::move(column)))->data();
    }

    std::vector<terms> options_;
    std::vector<std::shared_ptr<const std::vector<std::int64_t>>>
        columns_; // that `options_` points into; copies share them
};

} // namespace tranche
