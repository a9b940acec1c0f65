// Objectives about portions by themselves, to be put one after the other: how many, how heavy, how near to a weight.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// score = number of portions. Separable.
class portion_count_objective {
public:
    using score_type = std::int64_t;

    /// Counts the pieces of each option of `problem`, which need not outlive it. Throws nothing but for lack of memory.
    explicit portion_count_objective(const cutting_problem& problem) {
        for (std::size_t o = 0; o < problem.option_count(); ++o) pieces_.push_back(problem.pieces(o));
    }
    /// Nothing: portions are counted where a slab ends. Any indices; throws nothing.
    [[nodiscard]] score_type opening(std::size_t /*option*/, std::size_t /*from*/) const { return 0; }
    /// The portions of a slab of `option`, 0 for loose meat; the index is not checked. Throws nothing.
    [[nodiscard]] score_type closing(std::size_t option, std::size_t /*to*/) const { return pieces_[option]; }

private:
    std::vector<std::int64_t> pieces_;
};

/// score = micrograms in portions. Separable. The problem must outlive the objective.
class portion_mass_objective {
public:
    using score_type = std::int64_t;

    /// Reads the weights of `problem`, in micrograms. Throws nothing.
    explicit portion_mass_objective(const cutting_problem& problem) : problem_(&problem) {}
    explicit portion_mass_objective(const cutting_problem&& problem) = delete;

    /// What a slab of `option` scores for its start at `from`, in the unit of the score: a slab is worth opening +
    /// closing. Indices as for `slab_score`, not checked; throws nothing.
    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const {
        return problem_->is_portion(option) ? -problem_->front(option)[from] : 0;
    }
    /// The same for its end at `to`; not checked, throws nothing.
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const {
        return problem_->is_portion(option) ? problem_->back(option)[to] : 0;
    }

private:
    const cutting_problem* problem_;
};

/// score = - sum over portions of (weight - target)², in square milligrams; the deviation is cut off to whole milligrams.
/// Looks at whole slabs. A plan without portions scores zero, the most there is: put the number of portions in front
/// (`lexicographic`), or ask for some. Where no weight is given beforehand, `even_portions` finds the most equal ones.
/// The problem must outlive the objective.
class evenness_objective {
public:
    using score_type = std::int64_t;
    static constexpr bool portions_only = true;

    /// Throws `invalid_input` for a target that is not above zero, and where 64 bits do not hold the squares (a hundred
    /// portions of a loin of 200 kg). `target` is a mass.
    evenness_objective(const cutting_problem& problem, mass target) : problem_(&problem), target_(target) {
        detail::require_positive(target, "target");
        const double milligrams = 1e6 * std::max(target, to_mass(problem.meat().total())).value();
        if (!(milligrams * milligrams * static_cast<double>(detail::most_portions_possible(problem)) < 4e18))
            throw invalid_input("target", detail::shown(target),
                                "a target and a loin light enough to count in 64 bits");
        set_mass_ratio(1.0);
    }
    evenness_objective(const cutting_problem&& problem, mass target) = delete;
    /// The score of slab [from, to) of `option`, in the unit of the score. Indices as for `slab_score`, not checked;
    /// throws nothing.
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const {
        const std::int64_t pieces = problem_->pieces(option);
        if (pieces == 0) return 0;
        const std::int64_t off = (problem_->weight(option, from, to) - pieces * in_profile_) / (1000 * pieces);
        return -pieces * off * off;
    }
    /// As `value_objective::set_mass_ratio`. `ratio` is above zero. Throws `invalid_input` where 64 bits do not hold
    /// the target over the ratio.
    void set_mass_ratio(double ratio) { in_profile_ = to_micrograms(target_ / ratio).count; }

private:
    const cutting_problem* problem_;
    mass target_;
    std::int64_t in_profile_ = 0; ///< the target in micrograms of the profile
};

} // namespace tranche
