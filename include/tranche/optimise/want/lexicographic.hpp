// Objectives one after the other: the first decides, the next counts among plans that it rates alike.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/score.hpp>

namespace tranche {

/// score = (score by the first objective, score by the second, ...), compared in that order. Separable if all parts
/// are. Each part keeps its own score type, so nothing has to be scaled and nothing overflows that does not by itself.
/// Scores of floating point rarely tie: put whole numbers in front. Members take and throw what those of the parts do,
/// each part in its own unit; `option`, `from` and `to` are as for `slab_score`, and not checked.
template <objective... Objectives>
requires(sizeof...(Objectives) >= 2) class lexicographic_objective {
public:
    using score_type = lexicographic_score<typename Objectives::score_type...>;
    static constexpr bool one_has_bands = (... && (separable_objective<Objectives> || banded_objective<Objectives>)) &&
                                          (0 + ... + static_cast<int>(banded_objective<Objectives>)) == 1;

    /// Of objectives of one problem, the first of which decides.
    explicit lexicographic_objective(Objectives... objectives) : objectives_(std::move(objectives)...) {}

    /// What a slab scores for its start, part by part, `option` and `from` as above.
    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const
        requires(separable_objective<Objectives>&&...) {
        return each([&](const auto& o) { return o.opening(option, from); });
    }
    /// The same for its end.
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const
        requires(separable_objective<Objectives>&&...) {
        return each([&](const auto& o) { return o.closing(option, to); });
    }
    /// The score of a whole slab, part by part.
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const
        requires(!(separable_objective<Objectives> && ...)) {
        return each([&](const auto& o) { return slab_score(o, option, from, to); });
    }
    /// What loose meat scores for its start, where that is separable in all parts.
    [[nodiscard]] score_type loose_opening(std::size_t option, std::size_t from) const
        requires(!(separable_objective<Objectives> && ...) && (separable_loose<Objectives> && ...)) {
        return each([&](const auto& o) { return detail::loose_terms_of(o, option).opening(from); });
    }
    /// The same for its end.
    [[nodiscard]] score_type loose_closing(std::size_t option, std::size_t to) const
        requires(!(separable_objective<Objectives> && ...) && (separable_loose<Objectives> && ...)) {
        return each([&](const auto& o) { return detail::loose_terms_of(o, option).closing(to); });
    }

    /// Where bands of weight end, rising, in micrograms of the profile, where one part is separable in such and all
    /// others are separable.
    [[nodiscard]] std::vector<std::int64_t> bands(std::size_t option) const requires one_has_bands {
        std::vector<std::int64_t> limits;
        std::apply(
            [&](const auto&... o) {
                const auto ask = [&](const auto& one) {
                    if constexpr (banded_objective<std::decay_t<decltype(one)>>) limits = one.bands(option);
                };
                (ask(o), ...);
            },
            objectives_);
        return limits;
    }
    /// What a slab of that band (0 to the number of limits) scores for its start, part by part.
    [[nodiscard]] score_type band_opening(std::size_t option, std::size_t band,
                                          std::size_t from) const requires one_has_bands {
        return each([&](const auto& o) { return detail::part_terms_of(o, option, band).opening(from); });
    }
    /// The same for its end.
    [[nodiscard]] score_type band_closing(std::size_t option, std::size_t band,
                                          std::size_t to) const requires one_has_bands {
        return each([&](const auto& o) { return detail::part_terms_of(o, option, band).closing(to); });
    }

    /// For `cutting_session`: each part that depends on what the rest weighs is told. `ratio` is above zero. Throws
    /// what they throw.
    void set_mass_ratio(double ratio) {
        const auto tell = [&](auto& o) {
            if constexpr (requires { o.set_mass_ratio(ratio); }) o.set_mass_ratio(ratio);
        };
        std::apply([&](auto&... o) { (tell(o), ...); }, objectives_);
    }

private:
    template <class F>
    [[nodiscard]] score_type each(const F& score) const {
        return std::apply([&](const auto&... o) { return score_type{{score(o)...}}; }, objectives_);
    }

    std::tuple<Objectives...> objectives_;
};

/// `first`, then the others in turn. Two objectives or more, of one problem. Scores are compared part by part, each in
/// its own unit; separable if all are. Throws nothing of its own. O(objectives) a score.
template <objective... Objectives>
requires(sizeof...(Objectives) >= 2)
    [[nodiscard]] lexicographic_objective<Objectives...> lexicographic(Objectives... objectives) {
    return lexicographic_objective<Objectives...>(std::move(objectives)...);
}

} // namespace tranche
