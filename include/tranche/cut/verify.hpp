// A second opinion on a plan: recomputed from the profile cell by cell, sharing nothing with optimise/ but the trim model.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

template <class = when_called>
class plan_check {
public:
    plan_check(const cutting_plan& p, const profile& meat) : plan_(p), meat_(meat) {}

    std::vector<std::string> run() {
        whole();
        for (const slab& s : plan_.slabs) {
            number_ = static_cast<std::size_t>(&s - plan_.slabs.data()) + 1;
            place_in_plan(s);
            masses(s);
            cut_behind(s);
            if (s.kind == slab_kind::portions) limits(s, plan_.spec_of(s));
            if (s.kind == slab_kind::loose) stretch_between_portions(s);
            if (s.kind == slab_kind::end) remnant(s);
            if (s.kind == slab_kind::loose || s.kind == slab_kind::end) place_of_loose(s);
        }
        number_ = 0;
        required_remnant();
        pinned_cuts();
        one_thickness();
        order();
        return faults_;
    }

private:
    void fault(const std::string& text) {
        faults_.push_back((number_ == 0 ? "plan: " : "slab " + std::to_string(number_) + ": ") + text);
    }
    /// Places and thicknesses are compared in whole grains: exactly, and whatever their sums have lost in their last bits.
    [[nodiscard]] bool same(length a, length b) const { return in_grains(a) == in_grains(b); }

    void whole() {
        length at{};
        micrograms mass;
        for (const slab& s : plan_.slabs) {
            if (!same(s.start, at))
                fault("a slab starts at " + detail::shown(s.start) + ", not at " + detail::shown(at));
            at = s.end();
            mass += s.weight() + s.trim.sum() + s.cutting_loss;
        }
        if (!same(at, meat_.extent()))
            fault("the slabs end at " + detail::shown(at) + ", the loin at " + detail::shown(meat_.extent()));
        if (!same(plan_.extent, meat_.extent())) fault("made for a loin of " + detail::shown(plan_.extent));
        if (mass != meat_.total() || plan_.total != meat_.total())
            fault("masses add up to " + std::to_string(mass.count) + " micrograms, the loin weighs " +
                  std::to_string(meat_.total().count));
        const bool faced = !plan_.slabs.empty() && plan_.slabs.front().kind == slab_kind::facing;
        const length facing = faced ? plan_.slabs.front().thickness : length{};
        // The facing ends at the first position that it reaches.
        const double least = in_grains(plan_.rules.facing);
        if (in_grains(facing) < least || (faced && in_grains(facing - meat_.step()) >= least))
            fault("a facing of " + detail::shown(facing) + ", not " + detail::shown(plan_.rules.facing));
    }

    /// What a slab is must agree with where it lies.
    void place_in_plan(const slab& s) {
        const bool last = same(s.end(), meat_.extent()), portions = s.kind == slab_kind::portions;
        if (!(in_grains(s.thickness) > 0.0)) fault("no thicker than " + detail::shown(s.thickness));
        if (s.kind == slab_kind::facing && number_ > 1) fault("a facing that is not in front");
        if (s.kind == slab_kind::end && !last) fault("an end that does not reach the sirloin face");
        if (s.kind == slab_kind::loose && last) fault("loose meat at the sirloin face that is not called the end");
        const length kerf = portions && !last ? plan_.spec_of(s).kerf : length{};
        if (!same(s.kerf, kerf)) fault("a kerf of " + detail::shown(s.kerf) + ", not " + detail::shown(kerf));
        const auto shows = [&](length at, fraction share) {
            return meat_.gluteus_medius_share(meat_.nearest(at)) == share;
        };
        if (!shows(s.start, s.gluteus_medius_towards_rib)) fault("wrong share of gluteus medius towards the rib");
        if (!shows(s.end(), s.gluteus_medius_towards_sirloin))
            fault("wrong share of gluteus medius towards the sirloin");
    }

    /// Sums every cell that the slab covers, the last one in part when the kerf ends inside it.
    void masses(const slab& s) {
        trim_spec trim = plan_.trim_of(s);
        const bool tapers = trim.tail.tapers();
        const std::size_t first = meat_.nearest(s.start), last = meat_.nearest(s.end());
        const length back = s.start + s.thickness;
        micrograms lost;
        for (const tissue t : all_tissues) {
            std::int64_t kept = 0, all = 0;
            for (std::size_t cell = first; cell < last; ++cell) {
                const std::int64_t whole = meat_.between(cell, cell + 1, t).count;
                if (tapers && t == tissue::tail) trim.tail = tail_limit_in(cell, s);
                const std::int64_t left = kept_in_cell(meat_, cell, t, trim);
                const length from = meat_.position(cell), to = meat_.position(cell + 1);
                // To 2^-20 of a cell, as masses inside a cell are defined.
                const double share =
                    s.kerf > length{}
                        ? std::round(std::clamp<double>((back - from) / (to - from), 0.0, 1.0) * 0x1p20) * 0x1p-20
                        : 1.0;
                const auto part = [&](std::int64_t m) {
                    return static_cast<std::int64_t>(static_cast<double>(m) * share);
                };
                kept += share < 1.0 ? part(left) : left;
                all += share < 1.0 ? part(whole) : whole;
                lost += micrograms{whole - (share < 1.0 ? part(whole) : whole)};
            }
            if (kept != s.kept[t].count || all - kept != s.trim[t].count)
                fault("wrong mass of " + std::string(name_of(t)) + ": kept " + std::to_string(s.kept[t].count) +
                      " and trimmed " + std::to_string(s.trim[t].count) + " micrograms, recomputed " +
                      std::to_string(kept) + " and " + std::to_string(all - kept));
        }
        if (lost != s.cutting_loss) fault("wrong cutting loss");
    }

    /// Worked out by itself: the shorter one, in the middle of a cell, of the limits that the whole loin and the slab have.
    [[nodiscard]] length tail_limit_in(std::size_t cell, const slab& s) const {
        const length middle = 0.5 * (meat_.position(cell) + meat_.position(cell + 1));
        const auto there = [&](const trim_spec& trim) {
            const length rib = trim.tail.at_rib(), sirloin = trim.tail.at_sirloin();
            return rib == sirloin ? rib : snapped(rib + unfused((sirloin - rib) * double(middle / meat_.extent())));
        };
        const length whole = there(plan_.rules.trim_whole);
        if (s.kind == slab_kind::facing) return whole;
        const bool portions = s.kind == slab_kind::portions;
        return std::min(whole, there(portions ? plan_.spec_of(s).trim : plan_.rules.loose[s.option].trim));
    }

    void limits(const slab& s, const cut_spec& spec) {
        // A window that holds no thickness of the grid is met by the nearest one. Thicknesses of the grid are whole steps less
        // the kerf, and at the sirloin face the distances of positions from it. All in grains.
        const bool last_slab = same(s.end(), meat_.extent());
        const double step = step_in_grains(meat_.step()), thickness = in_grains(s.thickness);
        const double thin = in_grains(spec.thickness.min), thick = in_grains(spec.thickness.max);
        const double shift = last_slab ? std::fmod(in_grains(meat_.extent()), step) : -in_grains(s.kerf);
        const bool reachable = std::floor((thick - shift + 0.5 - below_half) / step) >=
                               std::ceil((thin - shift - 0.5 - below_half) / step);
        double slack = reachable || thick - thin >= step ? 0.0 : half_a_step();
        if (spec.thickness_step > length{}) { // so is a notch
            const double base = (thin - shift) / step, notch = in_grains(spec.thickness_step);
            slack = std::abs(base - std::round(base)) * step < 0.5 ? 0.0 : half_a_step();
            if (std::abs(std::remainder(thickness - thin, notch)) > slack)
                fault(spec.name + " is " + detail::shown(s.thickness) + " thick, which is no notch");
        }
        if (in_grains(s.start) < in_grains(spec.zone.min) ||
            in_grains(s.start + s.thickness) > in_grains(spec.zone.max))
            fault(spec.name + " lies outside its zone");
        if (thickness < thin - slack || thickness > thick + slack)
            fault(spec.name + " is " + detail::shown(s.thickness) + " thick, outside its limits");
        for (const micrograms w : plan_.portions_of(s)) {
            // Limits are compared in whole micrograms, and of an odd one the half belongs to either portion.
            const double weight = static_cast<double>(w.count), one = micrograms_in_a_kilogram;
            if (weight < detail::unfused(spec.portion.min.value() * one) - 1.0 ||
                weight > detail::unfused(spec.portion.max.value() * one) + 1.0)
                fault(spec.name + " weighs " + detail::shown(to_mass(w)) + ", outside its limits");
        }
        const std::size_t first = meat_.nearest(s.start), last = meat_.nearest(s.end());
        double before = 0.0, through = 0.0;
        for (std::size_t i = 0; i <= last; ++i) {
            through = std::max(through, meat_.gluteus_medius_share(i));
            if (i <= first) before = through;
        }
        if (before > spec.gluteus_medius.towards_rib)
            fault(spec.name + " shows too much gluteus medius towards the rib");
        if (through > spec.gluteus_medius.towards_sirloin)
            fault(spec.name + " shows too much gluteus medius towards the sirloin");
    }

    /// In grains; of a grid that is not on them, with what the rounding of a thickness may add.
    [[nodiscard]] double half_a_step() const {
        const double step = step_in_grains(meat_.step());
        return 0.5 * step + (step == std::floor(step) ? 0.0 : 0.5);
    }

    [[nodiscard]] bool behind_facing() const {
        return number_ == 1 || plan_.slabs[number_ - 2].kind == slab_kind::facing;
    }

    void remnant(const slab& s) {
        const least_remnant& least = plan_.rules.remnant;
        if (behind_facing()) return;    // nothing was portioned
        if (is_pinned(s.start)) return; // and this was asked for
        if (in_grains(s.thickness) < in_grains(least.thickness) || s.weight() < to_micrograms(least.weight))
            fault("a remnant of " + detail::shown(s.thickness) + " and " + detail::shown(to_mass(s.weight())) +
                  ", less than allowed");
    }

    /// Whether a place is the position nearest to one where there has to be a cut.
    [[nodiscard]] bool is_pinned(length place) const {
        return std::any_of(plan_.rules.cut_at.begin(), plan_.rules.cut_at.end(),
                           [&](length at) { return same(meat_.position(meat_.nearest(at)), place); });
    }
    void pinned_cuts() {
        for (const length& at : plan_.rules.cut_at) {
            const length place = meat_.position(meat_.nearest(at));
            for (const slab& s : plan_.slabs)
                if (in_grains(s.start) < in_grains(place) && in_grains(place) < in_grains(s.end()) &&
                    s.kind != slab_kind::facing)
                    fault("no cut at " + detail::shown(at));
        }
    }
    /// The kerf behind a slab must stay out of what is kept whole, unless the cut has to be there.
    void cut_behind(const slab& s) {
        if (same(s.end(), meat_.extent()) || is_pinned(s.end())) return;
        for (const quantity_range<length>& stretch : plan_.rules.kept_whole)
            if (in_grains(stretch.min) < in_grains(s.end()) &&
                in_grains(s.start + s.thickness) < in_grains(stretch.max))
                fault("cut at " + detail::shown(s.end()) + ", inside of what is kept whole, " +
                      detail::shown(stretch.min) + " to " + detail::shown(stretch.max));
    }

    /// At the sirloin face half a step is what the grid gives.
    void one_thickness() {
        for (std::size_t spec = 0; spec < plan_.specs.size(); ++spec) {
            if (!plan_.specs[spec].one_thickness) continue;
            const slab* before = nullptr;
            for (const slab& s : plan_.slabs) {
                if (s.kind != slab_kind::portions || s.option != spec) continue;
                const double slack = same(s.end(), meat_.extent()) ? half_a_step() : 0.0;
                if (before != nullptr && std::abs(in_grains(s.thickness) - in_grains(before->thickness)) > slack)
                    fault(plan_.specs[spec].name + " is " + detail::shown(before->thickness) + " thick and " +
                          detail::shown(s.thickness) + ", and should have one thickness");
                before = &s;
            }
        }
    }

    void order() {
        for (const cut_order& o : plan_.rules.order) {
            bool then_seen = false;
            for (const slab& s : plan_.slabs) {
                if (s.kind != slab_kind::portions) continue;
                if (then_seen && plan_.spec_of(s).name == o.first)
                    fault(o.first + " at " + detail::shown(s.start) + " lies behind " + o.then);
                then_seen = then_seen || plan_.spec_of(s).name == o.then;
            }
        }
    }

    /// All of the loin, or all between two pinned cuts, may be loose as one slab.
    void place_of_loose(const slab& s) {
        const bool last = same(s.end(), meat_.extent());
        const bool all = (behind_facing() || is_pinned(s.start)) && (last || is_pinned(s.end()));
        const loose_cut& loose = plan_.rules.loose[s.option];
        if (all && s.option == 0) return;
        if (loose.place == loose_place::nowhere) fault("loose meat, and none is allowed");
        if (loose.place == loose_place::ends && !behind_facing() && !last) fault("loose meat between portions");
        if (in_grains(s.start) < in_grains(loose.zone.min) || in_grains(s.end()) > in_grains(loose.zone.max))
            fault("loose meat outside its zone");
    }
    void required_remnant() {
        if (plan_.rules.remnant.required && !plan_.slabs.empty() && plan_.slabs.back().kind == slab_kind::portions)
            fault("nothing is left at the sirloin end");
    }

    void stretch_between_portions(const slab& s) {
        if (!behind_facing() && !is_pinned(s.start) && !is_pinned(s.end()) &&
            in_grains(s.thickness) < in_grains(plan_.rules.loose[s.option].least_thickness))
            fault("loose meat of " + detail::shown(s.thickness) + " between portions, thinner than allowed");
    }

    const cutting_plan& plan_;
    const profile& meat_;
    std::size_t number_ = 0;
    std::vector<std::string> faults_;
};

} // namespace detail

/// The faults of a plan for this profile, in words; empty for a plan that holds. Checked are: slabs tile the loin
/// behind a facing; each slab's kind and kerf are those of its place; every mass, by tissue, to the microgram; the
/// total; the gluteus medius on each face; each portion's thickness, notch, weight, zone and gluteus medius; the place
/// and zone of loose meat, and its least thickness between portions; the least remnant; one thickness for cuts that
/// must have one; the order of cuts; pinned cuts, and what is kept whole. Also that the plan was made for these `specs`
/// and `rules`. O(cells × slabs). Positions are whole steps of the profile; lengths are compared in whole 1/16 um,
/// without a tolerance, and shares in billionths. Bad specs, rules and a bad plan are faults, not exceptions. Throws
/// nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] std::vector<std::string> verify(cutting_plan p, const profile& meat, const cut_list& specs,
                                              const cutting_rules& rules) {
    std::vector<std::string> faults;
    p.specs = detail::snapped(cut_list(std::move(p.specs)));
    p.rules = detail::snapped(std::move(p.rules));
    if (!(p.specs == detail::snapped(specs))) faults.emplace_back("plan: made for other specs");
    if (!(p.rules == detail::snapped(rules))) faults.emplace_back("plan: made under other rules");
    try {
        validate(p.specs);
        validate(p.rules, meat.extent());
        validate(p.rules.order, p.specs);
    } catch (const invalid_input& error) {
        faults.push_back("plan: " + std::string(error.what()));
        return faults;
    }
    for (const slab& s : p.slabs) {
        const bool portions = s.kind == slab_kind::portions;
        if (!std::isfinite((s.start + s.thickness + s.kerf).value())) {
            faults.emplace_back("plan: a slab has no place");
            return faults;
        }
        if (s.kind != slab_kind::facing && s.option >= (portions ? p.specs.size() : p.rules.loose.size())) {
            faults.emplace_back("plan: a slab names a cut that does not exist");
            return faults;
        }
    }
    for (std::string& fault : detail::plan_check(p, meat).run()) faults.push_back(std::move(fault));
    return faults;
}

} // namespace tranche
