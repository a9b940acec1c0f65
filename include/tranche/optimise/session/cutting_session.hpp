// Cutting with the scale at hand: takes what each slab really weighed, learns from it, and plans the rest again.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/optimise/session/cutting_account.hpp>
#include <tranche/optimise/session/cutting_estimate.hpp>
#include <tranche/optimise/session/detail/demand_left.hpp>
#include <tranche/optimise/want/want.hpp>

namespace tranche {

/// Where the knife goes next.
struct next_cut {
    slab_kind kind = slab_kind::loose;
    std::size_t option = 0;      ///< index as in `slab`
    bool last = false;           ///< the rest is this slab: there is nothing to cut behind it
    length start{}, thickness{}; ///< of the slab that is wanted, from the rib face
    length set{};                ///< the thickness to aim at: `thickness` less the cutter's bias
    length at{};                 ///< where that is, from the rib face
    mass weight{};               ///< expected as it comes off
    mass portion{};              ///< expected of each portion, trimmed; zero if it is none

    friend bool operator==(const next_cut&, const next_cut&) = default;
};

/// Why a session advises no further cut.
enum class session_stop {
    not_yet, ///< it does
    cut_up,  ///< the loin is
    objective_not_finite ///< a user's objective returned NaN or +infinity for the rest, or forbids all: `undo` may help, or a new session
};

/// What the scale said of the slab that was cut.
struct slab_reading {
    mass weight{};                     ///< as it came off, trimmed only as the whole loin was; above zero
    std::optional<length> thickness{}; ///< if it was measured; above zero
    std::optional<length> set{};       ///< what was aimed at, if not what was advised; above zero

    friend bool operator==(const slab_reading&, const slab_reading&) = default;
};

/// One loin on the board, from the first cut to the last. After each slab it knows the loin's ratio of mass per length to the
/// profile's and the cutter's bias better (`cutting_estimate`), and has planned the rest as if all of it weighed `ratio`
/// times the profile. Same readings, same advice, on every compiler that rounds alike.
///
/// The ratio is taken as one for the whole loin. If the loin is heavier at the rib and lighter at the sirloin than the
/// profile has it, put the rest on the scale from time to time: `weigh_rest`.
///
/// The rest keeps an order of cuts behind the slabs that are cut, taken as what they are fit for, and a common thickness once
/// the first slab was aimed at one; until then each step is a search for it.
///
/// Demands are for the whole loin: what is cut counts, as far as it is fit to be what it was meant for or another spec, and
/// the rest is planned for what is left of them. What can no longer be had is lowered to what can, and `shortfalls` says
/// so.
///
/// The profile must outlive the session. A step is O(cells × options), as `best_path` is; with demands as
/// `best_path_with_demand`.
template <objective O>
class cutting_session {
public:
    /// Throws what the want throws where it is bound, and what `cutting_problem` and `validate`
    /// throw, for the demands too.
    template <objective_want W>
    cutting_session(const profile& meat, cutting_request request, const W& want, const cutting_spreads& spreads = {})
        : problem_(std::make_unique<cutting_problem>(meat, std::move(request.cuts), std::move(request.rules))),
          demands_(std::move(request.demands)), objective_(want(std::as_const(*problem_))),
          whole_(meat, problem_->rules().trim_whole), links_(problem_->links_slabs()),
          facing_(problem_->start()), now_{.estimate = cutting_estimate(spreads)} {
        validate(demands_, problem_->specs());
        plan_rest();
    }
    template <objective_want W>
    cutting_session(const profile&&, cutting_request, const W&,
                    const cutting_spreads& = {}) = delete; // the profile would be gone before the session is used

    [[nodiscard]] const profile& meat() const { return problem_->meat(); }
    [[nodiscard]] const std::vector<cut_spec>& specs() const { return problem_->specs(); }
    [[nodiscard]] const cutting_rules& rules() const { return problem_->rules(); }
    [[nodiscard]] const cutting_estimate& estimate() const { return now_.estimate; }

    /// How far from the rib face the loin is cut.
    [[nodiscard]] length position() const {
        return now_.done ? meat().extent() : std::min(now_.estimate.position(), meat().extent());
    }
    [[nodiscard]] length position_spread() const { return now_.estimate.position_spread(); }
    /// What is left of the loin by the ledger: the whole less all slabs.
    [[nodiscard]] micrograms rest() const { return whole() - now_.cut; }
    [[nodiscard]] micrograms whole() const { return {whole_.kept().back()}; }
    [[nodiscard]] std::span<const actual_slab> slabs() const { return slabs_; }

    /// The next cut, or none: `stop` says why.
    [[nodiscard]] const std::optional<next_cut>& next() const { return next_; }
    [[nodiscard]] session_stop why_stopped() const {
        if (!finite_) return session_stop::objective_not_finite;
        return next_ ? session_stop::not_yet : session_stop::cut_up;
    }
    /// The plan of the rest, behind a facing that is still to be cut; positions of the profile.
    [[nodiscard]] std::span<const grid_slab> plan_of_rest() const { return stretches_; }
    /// What is asked for and neither cut nor in that plan, and what is planned beyond what is allowed: in portions that are
    /// still to be cut. Empty if the demands are or will be met.
    [[nodiscard]] std::vector<demand_shortfall> shortfalls() const {
        return detail::missed_by(stretches_, detail::demands_left(demands_, specs(), slabs_), specs());
    }
    /// Portions in it.
    [[nodiscard]] std::size_t portions_to_come() const { return portion_count(specs(), stretches_); }

    /// Takes in the slab that was cut as `next()` advised, or otherwise, and plans the rest. The slab may have any thickness.
    /// Throws `invalid_input`, and changes nothing, for a weight or thickness that is not above zero, a weight beyond what is
    /// left, a thickness beyond the sirloin face, a weight more than a quarter off what a measured thickness lets expect,
    /// and when there is no next cut.
    const actual_slab& record(const slab_reading& reading) {
        if (!next_) throw invalid_input("slab", "one more", "no slab: " + why_none());
        check(reading);
        actual_slab s{.kind = next_->kind,
                      .option = next_->option,
                      .start = position(),
                      .aimed = reading.set ? *reading.set + now_.estimate.bias() : next_->thickness};
        const length left = meat().extent() - s.start;
        undo_.push_back(now_);
        if (next_->last && !reading.thickness) { // how long the rest really is, the profile alone says
            s.thickness = left;
            s.thickness_spread = position_spread();
            now_.done = true;
        } else {
            const length kerf = s.kind == slab_kind::portions ? specs()[s.option].kerf : length{};
            const auto found = now_.estimate.observe_slab(
                reading.set.value_or(next_->set), reading.thickness, reading.weight, left, kerf,
                [&](double t) { return by_profile(s.start, length::from_value(t)).value(); });
            s.thickness = found.thickness;
            s.thickness_spread = found.spread;
            s.slipped = found.slipped;
            s.kerf = std::min(kerf, left - s.thickness);
        }
        s.weight = to_micrograms(reading.weight);
        if (s.kind == slab_kind::portions) detail::judge(s, *problem_, whole_);
        now_.cut += s.weight;
        slabs_.push_back(s);
        ++now_.slabs;
        plan_rest();
        return slabs_.back();
    }

    /// Takes in the weight of all that is left on the board, trimmed only as the whole loin was, and plans it again. Throws
    /// `invalid_input`, and changes nothing, if it is more than a quarter off what the estimate lets expect, and when there
    /// is no next cut.
    void weigh_rest(mass weight) {
        detail::require_positive(weight, "weight");
        if (!next_) throw invalid_input("weight", weight, "no weight: " + why_none());
        const mass expected = by_profile(position(), meat().extent() - position());
        const linear_density per_length = by_profile(position(), meat().step()) / meat().step();
        require_likely(weight, expected, position_spread() * per_length);
        undo_.push_back(now_);
        now_.estimate.observe_rest(weight, expected, per_length);
        plan_rest();
    }

    /// Takes the last slab or weighing back; false if there is none.
    bool undo() {
        if (undo_.empty()) return false;
        now_ = undo_.back();
        undo_.pop_back();
        slabs_.resize(now_.slabs);
        plan_rest();
        return true;
    }

    /// What has been cut so far. `rest_weighed` is zero or more. Throws `invalid_input` for one that is not.
    [[nodiscard]] cutting_account account(std::optional<mass> rest_weighed = {}) const {
        if (rest_weighed) detail::require_not_negative(*rest_weighed, "rest");
        const micrograms left = rest_weighed ? to_micrograms(*rest_weighed) : rest();
        return detail::account_of(slabs_, specs(), whole(), left);
    }

private:
    /// Everything that an entry changes, apart from what follows from it.
    struct state {
        cutting_estimate estimate;
        micrograms cut{};
        std::size_t slabs = 0;
        bool done = false; // the last slab needed no cut
    };

    void check(const slab_reading& reading) const {
        detail::require_positive(reading.weight, "weight");
        if (reading.set) detail::require_positive(*reading.set, "set");
        // The profile's own word on the whole may be as wrong as the ratio can be; four standard deviations are enough.
        const cutting_spreads& spreads = now_.estimate.spreads();
        const mass most = (1.0 + 4.0 * spreads.ratio) * to_mass(whole()) + 4.0 * spreads.scale - to_mass(now_.cut);
        if (!(reading.weight <= most))
            throw invalid_input("weight", detail::rounded_up(reading.weight),
                                sentence("at most what is left, ") + detail::rounded_down(std::max(most, mass{})));
        if (!reading.thickness) return;
        detail::require_positive(*reading.thickness, "thickness");
        const length left = meat().extent() - position(), allowed = left + 4.0 * (position_spread() + spreads.ruler);
        if (!(*reading.thickness <= allowed))
            throw invalid_input("thickness", detail::rounded_up(*reading.thickness),
                                sentence("at most what is left, ") + detail::rounded_down(left));
        const mass expected = by_profile(position(), std::min(*reading.thickness, left));
        require_likely(reading.weight, expected, spreads.ruler * (expected / *reading.thickness));
    }
    /// Within a quarter, and four standard deviations of the readings beyond: what is further off was misread or mistyped.
    void require_likely(mass weight, mass profile_mass, mass spread) const {
        const mass expected = now_.estimate.ratio() * profile_mass;
        const mass noise = 4.0 * (now_.estimate.spreads().scale + spread);
        if (!(0.75 * expected - noise <= weight && weight <= 1.25 * expected + noise))
            throw invalid_input("weight", weight, sentence("within a quarter of the ") + expected + " expected");
    }

    [[nodiscard]] std::string why_none() const {
        return finite_ ? "the loin is cut up" : "the objective returned a value that is not finite";
    }

    [[nodiscard]] mass by_profile(length start, length thickness) const {
        return to_mass({whole_.kept_before(detail::profile_place::of(meat(), start + thickness)) -
                        whole_.kept_before(detail::profile_place::of(meat(), start))});
    }

    void plan_rest() {
        const bool faced = now_.slabs > 0 || facing_ == 0;
        const std::size_t start = faced ? meat().nearest(position()) : facing_;
        stretches_.clear();
        next_.reset();
        finite_ = true;
        prepare(start);
        if constexpr (requires { objective_.set_mass_ratio(1.0); }) objective_.set_mass_ratio(now_.estimate.ratio());
        if (start < meat().cells()) {
            stretches_ = now_.slabs > 0 ? best_without_slivers(start) : rest_from(start).stretches;
            prepare(start);
            even_out(*problem_, objective_, stretches_);
        }
        if (!finite_) return stretches_.clear();
        if (!faced)
            advise({0, start, slab_kind::facing, 0});
        else if (!stretches_.empty())
            advise(stretches_.front());
    }

    /// The problem of what lies behind a position, where `planned` lies between the slabs that are cut and that.
    void prepare(std::size_t start, std::span<const grid_slab> planned = {}) {
        if (links_)
            problem_->plan_rest(start, now_.estimate.ratio(), detail::in_front_of_rest(*problem_, slabs_, planned));
        else
            problem_->plan_rest(start, now_.estimate.ratio());
    }

    using score_type = typename O::score_type;

    /// Of what lies behind a position, where `planned` lies in front of it.
    [[nodiscard]] demand_tiling<score_type> best_from(std::size_t start, std::span<const grid_slab> planned = {}) {
        prepare(start, planned);
        demand_tiling<score_type> best;
        if (demands_.empty()) {
            auto free = best_path(*problem_, objective_);
            best.stretches = std::move(free.stretches);
            best.score = free.score;
            best.finite = free.finite;
        } else {
            best = detail::best_of_what_is_left(*problem_, objective_,
                                                detail::demands_left(demands_, specs(), slabs_, planned));
        }
        finite_ = finite_ && (best.finite || forbids(best.score));
        return best;
    }
    /// The same where there must be a tiling that is not forbidden.
    [[nodiscard]] demand_tiling<score_type> rest_from(std::size_t start, std::span<const grid_slab> planned = {}) {
        auto best = best_from(start, planned);
        finite_ = finite_ && best.finite;
        return best;
    }
    [[nodiscard]] std::size_t option_of(const grid_slab& s) const {
        return s.option + (s.kind == slab_kind::portions ? problem_->loose_count() : 0);
    }
    [[nodiscard]] bool same_loose(const grid_slab& a, const grid_slab& b) const {
        return a.kind == slab_kind::loose && b.kind == slab_kind::loose && a.option == b.option &&
               !problem_->places().is_pinned(b.from);
    }

    /// The engine lets loose meat be as thin as it comes at its start, where the facing is; behind a cut that is made, that
    /// would be a slice nobody can cut. Where its best plan starts with one, a head without it is chosen first.
    [[nodiscard]] std::vector<grid_slab> best_without_slivers(std::size_t start) {
        std::vector<grid_slab> plan;
        const auto append = [&](const grid_slab& s) {
            if (!plan.empty() && same_loose(plan.back(), s))
                plan.back().to = s.to; // one piece, not two
            else
                plan.push_back(s);
        };
        for (std::size_t at = start; at < meat().cells();) {
            const std::vector<grid_slab> tiles = rest_from(at, plan).stretches;
            if (!finite_) break;
            const grid_slab& s = tiles.front();
            const bool fixed = s.to == meat().cells() || problem_->places().is_pinned(s.to);
            const bool sliver = s.kind == slab_kind::loose && s.to - s.from < problem_->window(s.option).least_cells;
            if (!sliver || fixed || (!plan.empty() && same_loose(plan.back(), s))) {
                for (const grid_slab& tile : tiles) append(tile);
                break;
            }
            append(best_head(s, tiles[1], plan));
            if (!finite_) break;
            at = plan.back().to;
        }
        return plan;
    }
    /// The sliver goes to the slab behind it, that slab moves forward by it, or the loose meat gets as thick as it must:
    /// whichever scores highest with the best rest behind it, the earlier of equals; those that leave the demands possible
    /// first.
    [[nodiscard]] grid_slab best_head(const grid_slab& sliver, const grid_slab& behind,
                                      std::vector<grid_slab> planned) {
        const std::size_t least = problem_->window(sliver.option).least_cells;
        std::vector<grid_slab> heads;
        for (const std::size_t to : {behind.to, sliver.from + (behind.to - behind.from)})
            if (behind.kind == slab_kind::portions && problem_->allows(option_of(behind), sliver.from, to))
                heads.push_back({sliver.from, to, behind.kind, behind.option});
        std::size_t to = std::min(sliver.from + least, problem_->places().next_pin(sliver.from, meat().cells()));
        while (!problem_->allows(sliver.option, sliver.from, to)) ++to; // nor into what is kept whole
        heads.push_back({sliver.from, to, slab_kind::loose, sliver.option});
        grid_slab chosen;
        std::optional<score_type> best;
        bool best_met = false;
        planned.emplace_back();
        for (const grid_slab& head : heads) {
            score_type score = slab_score(objective_, option_of(head), head.from, head.to);
            planned.back() = head;
            bool met = true;
            if (head.to < meat().cells()) {
                const auto rest = best_from(head.to, planned);
                score = score + rest.score;
                met = rest.outcome == demand_outcome::met;
            } else {
                met = detail::missed_by({}, detail::demands_left(demands_, specs(), slabs_, planned), specs()).empty();
            }
            if (forbids(score)) continue;
            finite_ = finite_ && is_finite(score);
            if (best && (met != best_met ? best_met : !(*best < score))) continue;
            best = score;
            best_met = met;
            chosen = head;
        }
        finite_ = finite_ && best.has_value();
        return chosen;
    }

    void advise(const grid_slab& s) {
        const bool portions = s.kind == slab_kind::portions, last = s.to == meat().cells();
        next_cut cut{.kind = last && s.kind == slab_kind::loose ? slab_kind::end : s.kind,
                     .option = s.option,
                     .last = last,
                     .start = position()};
        const std::size_t option = s.option + (portions ? problem_->loose_count() : 0);
        // As thick as planned, from where the last cut really is: that may be half a step beside the plan's start.
        cut.thickness =
            last ? meat().extent() - cut.start
                 : meat().position(s.to) - meat().position(s.from) - (portions ? problem_->kerf(option) : length{});
        cut.thickness = std::min(cut.thickness, meat().extent() - cut.start);
        cut.set = last ? cut.thickness : std::max(cut.thickness - now_.estimate.bias(), 0.1 * cut.thickness);
        cut.at = cut.start + cut.set;
        cut.weight = now_.estimate.ratio() * by_profile(cut.start, cut.thickness);
        if (portions)
            cut.portion = cut.weight *
                          detail::portion_share(*problem_, whole_, option, detail::profile_place::of(meat(), cut.start),
                                                detail::profile_place::of(meat(), cut.start + cut.thickness));
        next_ = cut;
    }

    std::unique_ptr<cutting_problem> problem_; // objectives point into it, so it stays where it is
    std::vector<demand> demands_;
    O objective_;
    yield_table whole_; // the loin on the board: trimmed as a whole, not yet cut
    bool links_;        // whether an order or a common thickness links slabs
    std::size_t facing_;
    state now_;
    std::vector<state> undo_;
    std::vector<actual_slab> slabs_;
    std::vector<grid_slab> stretches_;
    std::optional<next_cut> next_;
    bool finite_ = true; // whether every score looked at for the rest was
};

template <objective_want W>
cutting_session(const profile&, cutting_request, const W&, const cutting_spreads& = {})
    -> cutting_session<std::invoke_result_t<const W&, const cutting_problem&>>;

} // namespace tranche
