// Many loins, one way to cut them: a model that `run_study` runs.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/profile.hpp>
#include <tranche/loin/varied_profiles.hpp>
#include <tranche/study/loins/detail/cutting_room.hpp>
#include <tranche/study/loins/detail/drawn_loin.hpp>
#include <tranche/study/loins/detail/loin_account.hpp>
#include <tranche/study/loins/loin_output.hpp>
#include <tranche/study/loins/loin_terms.hpp>
#include <tranche/study/loins/ways_to_cut.hpp>
#include <tranche/study/random/distribution.hpp>
#include <tranche/study/random/random_stream.hpp>
#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/study/vary/loin_variation.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// A study of loins: each replicate draws what varies, stretches the typical loin to it (`varied_profiles`), cuts it in its way by
/// the hand, judges the portions and settles the bill. Its figures are `loin_output`s.
///
///     const loin_study study(calibrated_profile(loin, 5.4_kg), variation_of(beef_strip_loin), task, terms,
///                            plan_for_each(most_portions()));
///
/// What is drawn has a stream of its own for each figure that varies, and one for the knife, so that two studies of one seed have the
/// same loins and the same slips of the hand, however they are cut and whatever else varies: compare them pair by pair.
///
/// A portion keeps its limits if it does those of its cut, in weight, second muscle and (`judge_thickness`) thickness. One that is too
/// heavy is trimmed down to the largest weight; any other that is outside is loose meat of the first kind. What is sold are the
/// portions that are left.
///
/// Draws that cannot be are counted by their reason: a size below zero, the second muscle beyond the loin, sizes out of all
/// proportion to the weight, a knife that goes behind the last cut, rules that do not fit on a loin so short.
///
/// A const object is safe to share between threads. A loin costs O(cells × cuts) as a plan does; with one plan less.
template <currency C, class Way>
class loin_study {
public:
    /// `typical` is the loin that stands for all; where weights do not vary, it and the sizes say them. Throws `invalid_input`, naming
    /// the field, for a task, terms or a variation that are none, rules that do not fit on the typical loin, a plan of other cuts, and
    /// a price of no cut.
    loin_study(profile typical, loin_variation variation, loin_task task, loin_terms<C> terms, Way way)
        : typical_(std::move(typical)), variation_(std::move(variation)), task_(std::move(task)),
          terms_(std::move(terms)), way_(std::move(way)) {
        validate(task_);
        validate(terms_);
        if (variation_.figures.empty())
            validate(variation_);
        else
            inputs_.emplace(inputs_of(variation_));
        (void)cutting_problem(typical_.base(), task_.request.cuts, task_.request.rules); // throws what it has to say
        task_.request.cuts = cut_list(task_.request.cuts);
        charges_ = detail::charges_of(task_.request.cuts, task_.charged);
        priced_ = !terms_.prices.portions.empty();
        for (const cut_spec& cut : task_.request.cuts) priced_ = priced_ && terms_.prices.portions.contains(cut.name);
        if (!priced_ && !terms_.prices.portions.empty())
            for (const cut_spec& cut : task_.request.cuts) (void)terms_.prices.of(cut.name); // says which
        if constexpr (requires { way_.cuts; }) check_cuts();
        for (const cut_spec& cut : task_.request.cuts) least_fat_ = std::min(least_fat_, cut.trim.fat_cover);
        for (const loose_cut& cut : task_.request.rules.loose) least_fat_ = std::min(least_fat_, cut.trim.fat_cover);
        least_fat_ = std::min(least_fat_, task_.request.rules.trim_whole.fat_cover);
        outline_ = {loin_outputs(C::minor_digits), detail::reasons_of_bad_draws()};
    }

    [[nodiscard]] const study_outline& outline() const { return outline_; }
    /// What is drawn for each loin; none where nothing varies.
    [[nodiscard]] const std::optional<study_inputs>& inputs() const { return inputs_; }
    [[nodiscard]] const profile& typical() const { return typical_.base(); }
    [[nodiscard]] const loin_task& task() const { return task_; }
    [[nodiscard]] const loin_terms<C>& terms() const { return terms_; }

    /// Room for one thread. The study must outlive it.
    class room {
    public:
        explicit room(const loin_study& study)
            : loins_{.loins = study.typical_,
                     .cut = {.slabs = {}, .specs = study.task_.request.cuts, .rules = study.task_.request.rules}},
              terms_(study.terms_) {}

        /// The loin that was cut last, and what was made of it: portions outside of their limits are loose meat there.
        [[nodiscard]] const profile& loin() const { return loins_.loins.last(); }
        [[nodiscard]] const cutting_plan& cut() const { return loins_.cut; }

    private:
        friend class loin_study;
        detail::loins_room loins_;
        detail::way_room<Way> way_{};
        detail::drawn_terms<C> terms_;
    };
    [[nodiscard]] room workspace() const { return room(*this); }

    std::optional<impossible_draw> operator()(const study_replicate& replicate, std::span<std::int64_t> outputs,
                                              room& with) const {
        if (!inputs_) return evaluate({}, replicate, outputs, with);
        const std::size_t n = inputs_->size();
        with.loins_.uniforms.resize(n);
        with.loins_.values.resize(n);
        for (std::size_t i = 0; i < n; ++i) {
            random_stream stream =
                replicate.stream(first_purpose + static_cast<std::uint32_t>(variation_.figures[i].what));
            with.loins_.uniforms[i] = stream.next_uniform();
        }
        inputs_->values(with.loins_.uniforms, with.loins_.values);
        return evaluate(with.loins_.values, replicate, outputs, with);
    }

    /// The same at values that are given, one a figure that varies and in their order, as for an analysis of which of them matter; the
    /// hand slips as in that replicate. Throws `invalid_input` for another number of values.
    std::optional<impossible_draw> evaluate(std::span<const double> values, const study_replicate& replicate,
                                            std::span<std::int64_t> outputs, room& with) const {
        if (values.size() != variation_.figures.size() || outputs.size() != loin_output_count)
            throw invalid_input("values", std::to_string(values.size()),
                                std::to_string(variation_.figures.size()) + ", one a figure that varies");
        detail::drawn_loin drawn(task_);
        for (std::size_t i = 0; i < values.size(); ++i) drawn.set(variation_.figures[i].what, values[i]);
        const auto bad = drawn.why_not();
        if (bad) return because(*bad);
        if (drawn.fat_left < 0.0 && least_fat_ + length::from_value(drawn.fat_left) < length{})
            return because(detail::bad_draw::fat_left);
        micrograms bought{};
        if (const auto impossible = stretch(drawn, with.loins_.loins, bought)) return impossible;
        if (!(task_.request.rules.facing < with.loin().extent())) return because(detail::bad_draw::rules);

        random_stream knife = replicate.stream(knife_purpose);
        const auto error = [&] {
            double e = drawn.bias;
            if (drawn.spread > 0.0) e += detail::unfused(drawn.spread * normal_.quantile(knife.next_uniform()));
            return length::from_value(e);
        };
        if (const auto wrong = detail::way_carried_out<Way>::run(way_, task_, drawn, error, with.loins_, with.way_))
            return because(*wrong);
        detail::loin_figures figures(outputs);
        detail::judge(with.loins_.cut, task_, drawn, charges_, typical().step(), figures);
        detail::account<C>(with.loins_.cut, bought, with.terms_.of(drawn), priced_, figures);
        return std::nullopt;
    }

private:
    static constexpr std::uint32_t knife_purpose = 1, first_purpose = 16;

    template <class Reason>
    [[nodiscard]] static std::optional<impossible_draw> because(Reason reason) {
        return impossible_draw{static_cast<std::size_t>(reason)};
    }
    /// The loin on the board, and what it weighed when it was bought.
    [[nodiscard]] std::optional<impossible_draw> stretch(const detail::drawn_loin& drawn, varied_profiles& loins,
                                                         micrograms& bought) const {
        if (!drawn.bought) {
            if (const auto why = loins.why_not(drawn.by)) return because(*why);
            const profile& meat = loins.vary(drawn.by);
            bought = drawn.purge > 0.0 ? to_micrograms(to_mass(meat.total()) / (1.0 - drawn.purge)) : meat.total();
            return std::nullopt;
        }
        impossible_loin why{};
        const mass on_board = (1.0 - drawn.purge) * *drawn.bought;
        const auto by = loins.to_weight(drawn.by, on_board, variation_.way, why);
        if (!by) return because(why);
        bought = to_micrograms(*drawn.bought);
        if (bought.count == 0) return because(impossible_loin::weight);
        loins.vary(*by, std::min(on_board, to_mass(bought)));
        bought = std::max(bought, loins.last().total());
        return std::nullopt;
    }
    void check_cuts() const {
        if (way_.cuts.empty()) throw invalid_input("plan", "no cuts", "a plan with slabs");
        for (const intended_cut& cut : way_.cuts) {
            const std::size_t options = cut.kind == slab_kind::portions ? task_.request.cuts.size()
                                        : cut.kind == slab_kind::facing ? 1
                                                                        : task_.request.rules.loose.size();
            if (cut.option >= options)
                throw invalid_input("plan", "a slab of cut " + std::to_string(cut.option),
                                    "slabs of the cuts that are asked for");
            detail::require_positive(cut.thickness, "thickness of a slab of the plan");
        }
    }

    varied_profiles typical_;
    loin_variation variation_;
    loin_task task_;
    loin_terms<C> terms_;
    Way way_;
    std::optional<study_inputs> inputs_{};
    study_outline outline_{};
    std::vector<mass> charges_{};
    bool priced_ = false;
    length least_fat_ = unlimited<length>();
    distribution normal_ = distribution::normal(0.0, 1.0);
};

} // namespace tranche
