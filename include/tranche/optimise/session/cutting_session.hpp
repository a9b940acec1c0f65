// Cutting with the scale at hand: takes what each slab really weighed, learns from it, and plans the rest again.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/optimise/session/cutting_account.hpp>
#include <tranche/optimise/session/cutting_estimate.hpp>
#include <tranche/optimise/session/detail/demand_left.hpp>
#include <tranche/optimise/session/detail/rest_planner.hpp>
#include <tranche/optimise/session/session_state.hpp>
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

/// What a session plans by: a want that is an objective, or one that can plan the rest of a loin.
template <class W>
concept session_want = objective_want<W> || rest_want<W>;

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
/// the rest is planned for what is left of them. Where that can no longer be had, the rest comes as near as `plan` does: no cut
/// above what is allowed, the fewest portions missing, and of such plans the best; `shortfalls` says what is missing.
///
/// `search` limits each step's search, which then advises by the best plan of the rest so far; `ended()` says so.
///
/// The profile must outlive the session. A step is O(cells × options), as `best_path` is; with demands as
/// `best_path_with_demand`. Masses are micrograms or kilograms, lengths metres; members throw nothing but what they say.
template <class Way>
requires objective<Way> || rest_want<Way> || std::same_as<Way, any_want>
class cutting_session {
public:
    /// Throws what the want throws where it is bound, and what `cutting_problem` and `validate` throw, for demands too.
    template <session_want W>
    cutting_session(const profile& meat, cutting_request request, const W& want, const cutting_spreads& spreads = {},
                    search_limits search = {})
        : cutting_session(not_planned{}, meat, std::move(request), want, spreads, std::move(search)) {
        plan_rest();
    }
    /// Goes on from where a session of this loin was: same loin, request and want, same advice to the last digit. Request and
    /// want may have changed since, in prices or demands, say: what is cut stays, and the rest is planned by the new ones. Takes
    /// a step without its plan for each entry, O(cells × options), and one plan. Throws as above, and `invalid_input` for a state
    /// of another loin, and for an entry that a session would have refused or that names no cut of the request, by its place:
    /// "entries[3].weight".
    template <session_want W>
    cutting_session(const profile& meat, cutting_request request, const W& want, const session_state& from,
                    search_limits search = {})
        : cutting_session(not_planned{}, meat, std::move(request), want, from.spreads, std::move(search)) {
        go_on_from(from);
        plan_rest();
    }
    template <session_want W>
    cutting_session(const profile&&, cutting_request, const W&, const cutting_spreads& = {},
                    search_limits = {}) = delete; // the profile would be gone before the session is used
    template <session_want W>
    cutting_session(const profile&&, cutting_request, const W&, const session_state&, search_limits = {}) = delete;

    [[nodiscard]] const profile& meat() const { return problem().meat(); } ///< as it was planned with
    [[nodiscard]] const std::vector<cut_spec>& specs() const { return problem().specs(); }
    [[nodiscard]] const cutting_rules& rules() const { return problem().rules(); }   ///< on the grain of 1/16 um
    [[nodiscard]] const cutting_estimate& estimate() const { return now_.estimate; } ///< by all readings

    /// How far from the rib face the loin is cut, up to its extent, and the standard deviation of that, zero or more.
    [[nodiscard]] length position() const {
        return now_.done ? meat().extent() : std::min(now_.estimate.position(), meat().extent());
    }
    [[nodiscard]] length position_spread() const { return now_.estimate.position_spread(); }
    /// What is left of the loin by the ledger: the whole less all slabs, zero or more.
    [[nodiscard]] micrograms rest() const { return whole() - now_.cut; }
    [[nodiscard]] micrograms whole() const { return {whole_.kept().back()}; }   ///< trimmed as a whole
    [[nodiscard]] std::span<const actual_slab> slabs() const { return slabs_; } ///< that were cut, in order

    /// The next cut, or none: `why_stopped` says why.
    [[nodiscard]] const std::optional<next_cut>& next() const { return next_; }
    /// Why there is no next cut; `not_yet` where there is one.
    [[nodiscard]] session_stop why_stopped() const {
        if (!finite_) return session_stop::objective_not_finite;
        return next_ ? session_stop::not_yet : session_stop::cut_up;
    }
    /// The plan of the rest, behind a facing that is still to be cut; positions of the profile.
    [[nodiscard]] std::span<const grid_slab> plan_of_rest() const { return stretches_; }
    /// Of that plan, by its score, what none exceeds where the search was ended; part by part, in micrograms of the profile.
    [[nodiscard]] std::span<const score_part> score_parts() const { return score_parts_; }
    /// How the search for it ended.
    [[nodiscard]] search_end ended() const { return ended_; }
    /// What is asked for and neither cut nor in that plan, and what is planned beyond what is allowed: in portions that are
    /// still to be cut. Empty if the demands are or will be met.
    [[nodiscard]] std::vector<demand_shortfall> shortfalls() const {
        auto missed = detail::missed_by(stretches_, rest_.demands_left(slabs_), specs());
        missed.insert(missed.end(), shortfalls_.begin(), shortfalls_.end());
        return missed;
    }
    /// Portions in it, zero or more.
    [[nodiscard]] std::size_t portions_to_come() const { return portion_count(specs(), stretches_); }

    /// Takes in the slab that was cut as `next()` advised, or otherwise, and plans the rest. The slab may have any thickness.
    /// Throws `invalid_input`, and changes nothing, for a weight or thickness that is not above zero, a weight beyond what is
    /// left, a thickness beyond the sirloin face, a weight more than a quarter off what a measured thickness lets expect,
    /// and when there is no next cut.
    const actual_slab& record(const slab_reading& reading) {
        if (!next_) throw invalid_input("slab", "one more", "no slab: " + why_none());
        const session_entry entry{.weight = reading.weight,
                                  .thickness = reading.thickness,
                                  .kind = next_->kind,
                                  .option = next_->option,
                                  .last = next_->last,
                                  .set = reading.set.value_or(next_->set),
                                  .aimed = reading.set ? *reading.set + now_.estimate.bias() : next_->thickness};
        check(entry);
        take(entry);
        plan_rest();
        return slabs_.back();
    }

    /// Takes in the weight of all that is left on the board, trimmed only as the whole loin was, and plans it again. Throws
    /// `invalid_input`, and changes nothing, if it is more than a quarter off what the estimate lets expect, and when there
    /// is no next cut.
    void weigh_rest(mass weight) {
        if (!next_) throw invalid_input("weight", weight, "no weight: " + why_none());
        const session_entry entry{.rest = true, .weight = weight};
        check(entry);
        take(entry);
        plan_rest();
    }

    /// All that a session needs to go on from here: see the constructor that takes it. O(entries).
    [[nodiscard]] session_state state() const { return {whole(), meat().extent(), now_.estimate.spreads(), entries_}; }

    /// Takes the last slab or weighing back and plans the rest again; false if there is none.
    bool undo() {
        if (undo_.empty()) return false;
        now_ = undo_.back();
        undo_.pop_back();
        entries_.pop_back();
        slabs_.resize(now_.slabs);
        plan_rest();
        return true;
    }

    /// What a slab of portions, of `slabs()`, may become, what its remedy says first: as it is, trimmed down, halved (where half of
    /// it is a portion of some spec), another cut whose limits it keeps, loose meat. Empty for other slabs. O(specs).
    [[nodiscard]] std::vector<slab_use> uses_of(const actual_slab& s) const {
        if (s.kind != slab_kind::portions) return {};
        return detail::uses_of(s, problem(), whole_);
    }

    /// What has been cut so far. `rest_weighed` is zero or more. Throws `invalid_input` for one that is not.
    [[nodiscard]] cutting_account account(std::optional<mass> rest_weighed = {}) const {
        if (rest_weighed) detail::require_not_negative(*rest_weighed, "rest");
        const micrograms left = rest_weighed ? to_micrograms(*rest_weighed) : rest();
        return detail::account_of(slabs_, specs(), whole(), left);
    }

private:
    /// Everything that an entry changes, apart from what follows from it.
    struct ledger {
        cutting_estimate estimate;
        micrograms cut{};
        std::size_t slabs = 0;
        bool done = false; // the last slab needed no cut
    };
    struct not_planned {};

    template <session_want W>
    cutting_session(not_planned, const profile& meat, cutting_request&& request, const W& want,
                    const cutting_spreads& spreads, search_limits&& search)
        : search_(std::move(search)), rest_(meat, std::move(request)), plan_(rest_.problem(), want),
          whole_(meat, problem().rules().trim_whole), now_{.estimate = cutting_estimate(spreads)} {}

    void go_on_from(const session_state& from) {
        if (from.whole != whole())
            throw invalid_input("whole", to_mass(from.whole), sentence("that of the loin, ") + to_mass(whole()));
        if (from.extent != meat().extent())
            throw invalid_input("extent", from.extent, sentence("that of the loin, ") + meat().extent());
        for (std::size_t i = 0; i < from.entries.size(); ++i) try {
                prepare();
                check_place(from.entries[i]);
                check(from.entries[i]);
                take(from.entries[i]);
            } catch (const invalid_input& error) {
                throw within("entries[" + std::to_string(i) + "].", error);
            }
    }
    /// What `record` sees to by itself.
    void check_place(const session_entry& entry) const {
        if (now_.done || !(position() < meat().extent()))
            throw invalid_input("weight", entry.weight, "none: the loin is cut up");
        if (entry.rest) return;
        const bool portions = entry.kind == slab_kind::portions, facing = entry.kind == slab_kind::facing;
        const std::size_t options = portions ? specs().size() : facing ? 1 : rules().loose.size();
        if (facing && now_.slabs > 0)
            throw invalid_input("kind", "facing", "another one: the facing is cut in front of all");
        if (entry.kind < slab_kind::facing || entry.kind > slab_kind::end)
            throw invalid_input("kind", std::to_string(static_cast<int>(entry.kind)), "a kind of slab");
        if (entry.option >= options)
            throw invalid_input("option", std::to_string(entry.option),
                                "an index below the number of " +
                                    std::string(portions ? "specs, " : "ways to use such a slab, ") +
                                    std::to_string(options));
        detail::require_positive(entry.aimed, "aimed");
    }

    /// The problem is that of the rest in front of which the entry comes.
    void take(const session_entry& entry) {
        undo_.push_back(now_);
        entries_.push_back(entry);
        if (entry.rest) {
            const length left = meat().extent() - position();
            now_.estimate.observe_rest(entry.weight, by_profile(position(), left), mass_per_length());
            return;
        }
        actual_slab s{.kind = entry.kind, .option = entry.option, .start = position(), .aimed = entry.aimed};
        const length left = meat().extent() - s.start;
        if (entry.last && !entry.thickness) { // how long the rest really is, the profile alone says
            s.thickness = left;
            s.thickness_spread = position_spread();
            now_.done = true;
        } else {
            const length kerf = s.kind == slab_kind::portions ? specs()[s.option].kerf : length{};
            const auto found =
                now_.estimate.observe_slab(entry.set, entry.thickness, entry.weight, left, kerf, [&](double t) {
                    return by_profile(s.start, length::from_value(t)).value();
                });
            s.thickness = found.thickness;
            s.thickness_spread = found.spread;
            s.slipped = found.slipped;
            s.kerf = std::min(kerf, left - s.thickness);
        }
        s.weight = to_micrograms(entry.weight);
        if (s.kind == slab_kind::portions) detail::judge(s, problem(), whole_);
        now_.cut += s.weight;
        slabs_.push_back(s);
        ++now_.slabs;
    }

    void check(const session_entry& entry) const {
        detail::require_positive(entry.weight, "weight");
        if (entry.rest)
            return require_likely(entry.weight, by_profile(position(), meat().extent() - position()),
                                  position_spread() * mass_per_length());
        detail::require_positive(entry.set, "set");
        // The profile's own word on the whole may be as wrong as the ratio can be; four standard deviations are enough.
        const cutting_spreads& spreads = now_.estimate.spreads();
        const mass most = (1.0 + 4.0 * spreads.ratio) * to_mass(whole()) + 4.0 * spreads.scale - to_mass(now_.cut);
        if (!(entry.weight <= most))
            throw invalid_input("weight", detail::rounded_up(entry.weight),
                                sentence("at most what is left, ") + detail::rounded_down(std::max(most, mass{})));
        if (!entry.thickness) return;
        detail::require_positive(*entry.thickness, "thickness");
        const length left = meat().extent() - position(), allowed = left + 4.0 * (position_spread() + spreads.ruler);
        if (!(*entry.thickness <= allowed))
            throw invalid_input("thickness", detail::rounded_up(*entry.thickness),
                                sentence("at most what is left, ") + detail::rounded_down(left));
        const mass expected = by_profile(position(), std::min(*entry.thickness, left));
        require_likely(entry.weight, expected, spreads.ruler * (expected / *entry.thickness));
    }
    /// What a bit of the rest weighs for its length, by the profile, where the loin is cut.
    [[nodiscard]] linear_density mass_per_length() const {
        return by_profile(position(), meat().step()) / meat().step();
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

    [[nodiscard]] const cutting_problem& problem() const { return rest_.problem(); }
    /// The rest starts behind a facing that is still to be cut.
    void prepare() {
        rest_.start_at(now_.slabs > 0 ? meat().nearest(position()) : rest_.facing(), now_.estimate.ratio(), slabs_);
    }
    void plan_rest() {
        const bool faced = now_.slabs > 0 || rest_.facing() == 0;
        next_.reset();
        prepare();
        rest_plan best;
        if (problem().start() < meat().cells()) best = plan_(rest_, slabs_, now_.estimate.ratio(), search_);
        score_parts_ = std::move(best.score_parts);
        ended_ = best.ended;
        stretches_ = std::move(best.stretches);
        shortfalls_ = std::move(best.shortfalls);
        finite_ = best.finite;
        if (!finite_) return;
        if (!faced)
            advise({0, problem().start(), slab_kind::facing, 0});
        else if (!stretches_.empty())
            advise(stretches_.front());
    }

    void advise(const grid_slab& s) {
        const bool portions = s.kind == slab_kind::portions, last = s.to == meat().cells();
        next_cut cut{.kind = last && s.kind == slab_kind::loose ? slab_kind::end : s.kind,
                     .option = s.option,
                     .last = last,
                     .start = position()};
        const std::size_t option = s.option + (portions ? problem().loose_count() : 0);
        // As thick as planned, from where the last cut really is: that may be half a step beside the plan's start.
        cut.thickness =
            last ? meat().extent() - cut.start
                 : meat().position(s.to) - meat().position(s.from) - (portions ? problem().kerf(option) : length{});
        cut.thickness = std::min(cut.thickness, meat().extent() - cut.start);
        cut.set = last ? cut.thickness : std::max(cut.thickness - now_.estimate.bias(), 0.1 * cut.thickness);
        cut.at = cut.start + cut.set;
        cut.weight = now_.estimate.ratio() * by_profile(cut.start, cut.thickness);
        if (portions)
            cut.portion = cut.weight *
                          detail::portion_share(problem(), whole_, option, detail::profile_place::of(meat(), cut.start),
                                                detail::profile_place::of(meat(), cut.start + cut.thickness));
        next_ = cut;
    }

    search_limits search_;
    detail::loin_rest<> rest_;
    detail::rest_planner<Way> plan_;
    yield_table whole_; // the loin on the board: trimmed as a whole, not yet cut
    ledger now_;
    std::vector<ledger> undo_;           ///< before each entry
    std::vector<session_entry> entries_; ///< one for each of those
    std::vector<actual_slab> slabs_;
    std::vector<grid_slab> stretches_;
    std::vector<demand_shortfall> shortfalls_; ///< of the want, beside those of the demands
    std::vector<score_part> score_parts_;
    search_end ended_ = search_end::by_itself;
    std::optional<next_cut> next_;
    bool finite_ = true; // whether every score looked at for the rest was
};

template <session_want W>
cutting_session(const profile&, cutting_request, const W&, const cutting_spreads& = {}, search_limits = {})
    -> cutting_session<typename detail::way_of<W>::type>;
template <session_want W>
cutting_session(const profile&, cutting_request, const W&, const session_state&, search_limits = {})
    -> cutting_session<typename detail::way_of<W>::type>;

} // namespace tranche
