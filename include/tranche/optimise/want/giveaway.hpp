// Giveaway: the weight of portions above what is charged for, where a portion is charged at a fixed weight.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The weight at which one portion is charged, by the name of its cut. A cut that is not named is charged at its least
/// portion; if it has none, all that its portions weigh is given away.
using charged_weights = std::map<std::string, mass>;

namespace detail {

/// Per spec. Throws `invalid_input` for a name that no spec has, and for a weight that is not finite and above zero.
template <class = when_called>
[[nodiscard]] std::vector<mass> charges_of(const std::vector<cut_spec>& specs, const charged_weights& charged) {
    for (const auto& entry : charged) {
        require_positive(entry.second, "weight charged for " + entry.first);
        if (std::none_of(specs.begin(), specs.end(), [&](const cut_spec& s) { return s.name == entry.first; }))
            throw invalid_input("weight charged", '"' + entry.first + '"', "the name of a spec");
    }
    std::vector<mass> charges;
    for (const cut_spec& spec : specs) {
        const auto named = charged.find(spec.name);
        charges.push_back(named == charged.end() ? spec.portion.min : named->second);
    }
    return charges;
}

/// What slabs of a problem are charged at.
class charged_slabs {
public:
    charged_slabs(const cutting_problem& problem, const charged_weights& charged)
        : problem_(&problem), charges_(charges_of(problem.specs(), charged)) {
        set_mass_ratio(1.0);
    }
    [[nodiscard]] const cutting_problem& problem() const { return *problem_; }
    /// In micrograms of the profile.
    [[nodiscard]] std::int64_t of(std::size_t option) const { return of_slab_[option - problem_->loose_count()]; }
    [[nodiscard]] mass of_portion(std::size_t spec) const { return charges_[spec]; }
    void set_mass_ratio(double ratio) {
        of_slab_.clear();
        for (std::size_t s = 0; s < charges_.size(); ++s)
            of_slab_.push_back(to_micrograms(charges_[s] / ratio).count * problem_->specs()[s].pieces);
    }

private:
    const cutting_problem* problem_;
    std::vector<mass> charges_;
    std::vector<std::int64_t> of_slab_;
};

} // namespace detail

/// score = - giveaway in micrograms = sum over portions of (charged - weight), where no portion may weigh less than it is
/// charged at. Separable. A plan without portions gives nothing away: put the number of portions in front
/// (`lexicographic`), or ask for some. The problem must outlive the objective.
class giveaway_objective {
public:
    using score_type = std::int64_t;

    /// Throws `invalid_input` for a bad charge, and for one above the least portion of its cut: `overweight_objective`
    /// takes those. Charges are masses above zero, one a portion.
    explicit giveaway_objective(const cutting_problem& problem, const charged_weights& charged = {})
        : charged_(problem, charged) {
        for (std::size_t s = 0; s < problem.specs().size(); ++s)
            if (const cut_spec& spec = problem.specs()[s]; charged_.of_portion(s) > spec.portion.min)
                throw invalid_input("weight charged for " + spec.name, detail::shown(charged_.of_portion(s)),
                                    "at most the least portion, " + detail::shown(spec.portion.min));
    }
    explicit giveaway_objective(const cutting_problem&& problem, const charged_weights& charged = {}) = delete;
    /// What a slab of `option` scores for its start at `from`, in the unit of the score: a slab is worth opening +
    /// closing. Indices as for `slab_score`, not checked; throws nothing.
    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const {
        const cutting_problem& problem = charged_.problem();
        return problem.is_portion(option) ? problem.front(option)[from] : 0;
    }
    /// The same for its end at `to`; not checked, throws nothing.
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const {
        const cutting_problem& problem = charged_.problem();
        return problem.is_portion(option) ? charged_.of(option) - problem.back(option)[to] : 0;
    }
    /// As `value_objective::set_mass_ratio`. `ratio` is above zero. Throws `invalid_input` only for one so small that
    /// 64 bits do not hold a charge.
    void set_mass_ratio(double ratio) { charged_.set_mass_ratio(ratio); }

private:
    detail::charged_slabs charged_;
};

/// score = - sum over portions of what they weigh above the charge, in micrograms. A portion below it gives nothing away, and
/// makes up for no other one. Separable in two bands of weight, below and above the charge. The problem must outlive the objective.
class overweight_objective {
public:
    using score_type = std::int64_t;
    static constexpr bool portions_only = true;

    /// Throws `invalid_input` for a bad charge. Charges are masses above zero, one a portion.
    explicit overweight_objective(const cutting_problem& problem, const charged_weights& charged = {})
        : charged_(problem, charged) {}
    explicit overweight_objective(const cutting_problem&& problem, const charged_weights& charged = {}) = delete;
    /// The score of slab [from, to) of `option`, in the unit of the score. Indices as for `slab_score`, not checked;
    /// throws nothing.
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const {
        const cutting_problem& problem = charged_.problem();
        if (!problem.is_portion(option)) return 0;
        return std::min<std::int64_t>(0, charged_.of(option) - problem.weight(option, from, to));
    }
    /// The charge: up to that a slab scores nothing. In micrograms of the profile, zero or more; `option` is one of
    /// portions, not checked. Throws nothing.
    [[nodiscard]] std::vector<std::int64_t> bands(std::size_t option) const { return {charged_.of(option)}; }
    /// What a slab of a band (0 below the charge, 1 above) scores for its start, in micrograms; indices are not
    /// checked. Throws nothing.
    [[nodiscard]] score_type band_opening(std::size_t option, std::size_t band, std::size_t from) const {
        return band == 0 ? 0 : charged_.problem().front(option)[from];
    }
    /// The same for its end, zero or less with it; indices are not checked. Throws nothing.
    [[nodiscard]] score_type band_closing(std::size_t option, std::size_t band, std::size_t to) const {
        return band == 0 ? 0 : charged_.of(option) - charged_.problem().back(option)[to];
    }
    /// As `value_objective::set_mass_ratio`. `ratio` is above zero. Throws `invalid_input` only for one so small that
    /// 64 bits do not hold a charge.
    void set_mass_ratio(double ratio) { charged_.set_mass_ratio(ratio); }

private:
    detail::charged_slabs charged_;
};

} // namespace tranche
