// A request made ready for planning: for every way to use a stretch of the loin, its weights and its windows.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {
namespace detail {

/// Which slabs [from, to) of one option are allowed, all in positions and micrograms.
struct option_window {
    std::size_t least_cells = 1, most_cells = 0;    ///< to - from, where `to` is not the sirloin face
    std::size_t first_to_end = 1, last_to_end = 0;  ///< `from` of a slab that ends at the sirloin face
    std::size_t first_from = 0;                     ///< the zone: from >= first_from
    std::size_t past_from = 0, past_to = 0;         ///< zone and gluteus medius rule: from < past_from and to < past_to
    std::size_t stride = 1;                         ///< notches: least_cells, last_to_end and whole strides from there
    std::int64_t least_weight = 0, most_weight = 0; ///< of the trimmed slab
};

/// What the rest of a loin has to go together with where an order of cuts or a common thickness links slabs.
struct slabs_in_front {
    std::vector<bool> cut;         ///< by spec: whether slabs of it lie in front
    std::vector<length> thickness; ///< by spec: what those have that must have one; zero for any
};

} // namespace detail

/// The options of a request are its loose cuts, then its specs: option o is loose cut o or, from `loose_count()` on, spec
/// o - loose_count(). On ties the earlier option wins, so loose meat gathers at the sirloin end.
/// A slab [from, to) of option o weighs back(o)[to] - front(o)[from]: the kerf behind it is already taken off. Both never
/// fall from one position to the next. The profile must outlive the problem. Building it is O(cells × options).
class cutting_problem {
public:
    /// Throws `invalid_input` for specs or rules that are impossible in themselves or on this loin.
    cutting_problem(const profile& meat, cut_list specs, cutting_rules rules)
        : meat_(&meat), specs_(detail::snapped(std::move(specs))), rules_(detail::snapped(std::move(rules))) {
        validate(specs_);
        validate(rules_, meat.extent());
        validate(rules_.order, specs_);
        start_ = detail::position_behind_facing(meat, rules_);
        for (const loose_cut& loose : rules_.loose) add_loose(loose);
        for (const cut_spec& spec : specs_) add_portions(spec);
    }
    /// A profile that nobody keeps would be gone before the problem is read: give it a name first.
    cutting_problem(const profile&& meat, cut_list specs, cutting_rules rules) = delete;

    [[nodiscard]] const profile& meat() const { return *meat_; }
    [[nodiscard]] const cut_list& specs() const { return specs_; }
    [[nodiscard]] const cutting_rules& rules() const { return rules_; }

    /// The same request for what is left of the loin: slabs lie behind position `start` (0 to cells(); the facing is no
    /// longer looked at), and all of it weighs `mass_ratio` (above zero) times what the profile says. The tables stay as
    /// they are, in micrograms of the profile; the limits of the weights are divided by the ratio and rounded inwards.
    /// Calls do not add up: `plan_rest(start(), 1.0)` is the whole request again. O(options).
    /// Throws `invalid_input` for requests that link slabs with each other: for those, say what lies in front.
    void plan_rest(std::size_t start, double mass_ratio) {
        check_rest(start, mass_ratio);
        if (!rules_.order.empty())
            throw invalid_input("order", rules_.order.front().first + " before " + rules_.order.front().then,
                                "none where the rest of a loin is planned without the slabs in front of it");
        std::vector<detail::option_window> before = windows_;
        whole_again();
        if (const auto linked = varying(); !linked.empty()) {
            windows_ = std::move(before);
            throw invalid_input(spec_of(linked.front()).name + ": one_thickness", "true",
                                "false where the rest of a loin is planned without the slabs in front of it");
        }
        start_with(start, mass_ratio);
    }
    /// The same behind slabs that the rest must go together with: cuts that should lie before one of those come no more, and
    /// cuts that must have one thickness have theirs, or the nearest that is allowed.
    void plan_rest(std::size_t start, double mass_ratio, const detail::slabs_in_front& before) {
        check_rest(start, mass_ratio);
        if (before.cut.size() != specs_.size() || before.thickness.size() != specs_.size())
            throw invalid_input("before", "one that is not of these specs", "an entry for each of the specs");
        if (whole_windows_.empty()) whole_windows_ = windows_;
        whole_again();
        start_with(start, mass_ratio);
        for (std::size_t o = loose_count(); o < option_count(); ++o) {
            const length thickness = before.thickness[o - loose_count()];
            if (spec_of(o).one_thickness && thickness > length{}) keep_thickness(o, thickness);
            for (const cut_order& order : rules_.order)
                for (std::size_t then = 0; then < specs_.size(); ++then)
                    if (before.cut[then] && specs_[then].name == order.then && spec_of(o).name == order.first)
                        no_slab(windows_[o]);
        }
    }

    /// Options whose slabs must have one thickness while their windows still leave a choice.
    [[nodiscard]] std::vector<std::size_t> varying() const {
        std::vector<std::size_t> options;
        for (std::size_t o = loose_count(); o < option_count() && !thicknesses_apart_; ++o)
            if (spec_of(o).one_thickness && cells_of(o).first < cells_of(o).second) options.push_back(o);
        return options;
    }
    /// Whether there is a slab of this option that its thickness and the slabs in front leave.
    [[nodiscard]] bool may_come(std::size_t option) const {
        const detail::option_window& w = windows_[option];
        return w.least_cells <= w.most_cells || w.first_to_end <= w.last_to_end;
    }
    /// Whether what is allowed for a slab depends on others: an order, or a thickness in common.
    [[nodiscard]] bool links_slabs() const { return !rules_.order.empty() || !varying().empty(); }

    /// How many cells thick a slab is; at the sirloin face, of the thickness that it is nearest to.
    [[nodiscard]] std::size_t cells_of(std::size_t option, std::size_t from, std::size_t to) const {
        return to < cells() ? to - from : end_and_kerf(option) - from;
    }
    /// The least and the most cells that any slab of this option may have; the least is larger if there is none.
    [[nodiscard]] std::pair<std::size_t, std::size_t> cells_of(std::size_t option) const {
        const detail::option_window& w = windows_[option];
        const std::size_t end = end_and_kerf(option);
        if (w.first_to_end > w.last_to_end) return {w.least_cells, w.most_cells};
        if (w.least_cells > w.most_cells) return {end - w.last_to_end, end - w.first_to_end};
        return {std::min(w.least_cells, end - w.last_to_end), std::max(w.most_cells, end - w.first_to_end)};
    }
    /// The same request with slabs of an option of `least` to `most` cells only.
    void narrow_cells(std::size_t option, std::size_t least, std::size_t most) {
        detail::option_window& w = windows_[option];
        const auto up = [&](std::size_t by) { return (by + w.stride - 1) / w.stride * w.stride; };
        if (w.least_cells < least) w.least_cells += up(least - w.least_cells);
        w.most_cells = std::min(w.most_cells, most);
        if (w.least_cells > w.most_cells) no_slab_in_front(w);
        const std::size_t end = end_and_kerf(option);
        if (most < end) w.first_to_end = std::max(w.first_to_end, end - most);
        if (w.first_to_end > w.last_to_end || least + w.last_to_end <= end) return;
        const std::size_t by = up(least + w.last_to_end - end);
        if (by > w.last_to_end)
            w.first_to_end = w.last_to_end + 1; // none left
        else
            w.last_to_end -= by;
    }
    /// From now on slabs of a spec may differ in thickness, even where it says otherwise: a relaxation of the request.
    void let_thicknesses_differ() { thicknesses_apart_ = true; }

    /// The first position behind the facing, or where the rest starts.
    [[nodiscard]] std::size_t start() const { return start_; }
    [[nodiscard]] std::size_t cells() const { return meat_->cells(); }
    [[nodiscard]] std::size_t option_count() const { return windows_.size(); }
    [[nodiscard]] std::size_t loose_count() const { return rules_.loose.size(); }
    [[nodiscard]] bool is_portion(std::size_t option) const { return option >= loose_count(); }
    [[nodiscard]] const cut_spec& spec_of(std::size_t option) const { return specs_[option - loose_count()]; }
    /// Portions that a slab of this option gives: 0 for loose meat.
    [[nodiscard]] int pieces(std::size_t option) const { return is_portion(option) ? spec_of(option).pieces : 0; }
    [[nodiscard]] length kerf(std::size_t option) const { return is_portion(option) ? spec_of(option).kerf : length{}; }

    /// What comes off, on the whole loin and on the slab.
    [[nodiscard]] const trim_spec& trim(std::size_t option) const { return trims_[option]; }
    [[nodiscard]] const detail::option_window& window(std::size_t option) const { return windows_[option]; }
    [[nodiscard]] std::span<const std::int64_t> front(std::size_t option) const { return tables_[option].kept(); }
    [[nodiscard]] std::span<const std::int64_t> back(std::size_t option) const {
        return backs_[option].empty() ? front(option) : std::span<const std::int64_t>(backs_[option]);
    }
    /// Micrograms of the trimmed slab.
    [[nodiscard]] std::int64_t weight(std::size_t option, std::size_t from, std::size_t to) const {
        return back(option)[to] - front(option)[from];
    }

    /// Whether [from, to) may be a slab of this option. Loose meat may be as thin as it comes at either end of the loin.
    [[nodiscard]] bool allows(std::size_t option, std::size_t from, std::size_t to) const {
        const detail::option_window& w = windows_[option];
        if (from < start_ || to <= from || to > cells()) return false;
        if (!is_portion(option))
            return from == start_ || (to == cells() ? from <= w.last_to_end : to - from >= w.least_cells);
        if (from < w.first_from) return false;
        const bool thickness =
            to == cells() ? w.first_to_end <= from && from <= w.last_to_end && (w.last_to_end - from) % w.stride == 0
                          : w.least_cells <= to - from && to - from <= w.most_cells &&
                                (to - from - w.least_cells) % w.stride == 0;
        const std::int64_t slab = weight(option, from, to);
        return thickness && from < w.past_from && to < w.past_to && w.least_weight <= slab && slab <= w.most_weight;
    }

private:
    /// Stands for "no limit"; far enough from the ends of 64 bits to be added to a weight.
    static constexpr std::int64_t no_limit = std::numeric_limits<std::int64_t>::max() / 4;

    void check_rest(std::size_t start, double mass_ratio) const {
        if (start > cells())
            throw invalid_input("start", std::to_string(start),
                                "at most the last position, " + std::to_string(cells()));
        detail::require_positive(mass_ratio, "mass_ratio");
    }
    /// Undoes what slabs in front have narrowed.
    void whole_again() {
        if (!whole_windows_.empty()) windows_ = whole_windows_;
    }

    void start_with(std::size_t start, double mass_ratio) {
        start_ = start;
        for (std::size_t o = 0; o < option_count(); ++o) {
            detail::option_window& w = windows_[o];
            if (!is_portion(o)) {
                w.first_to_end = start;
                w.last_to_end = last_remnant_start(o, mass_ratio);
                continue;
            }
            const cut_spec& spec = spec_of(o);
            w.least_weight = divided(slab_limit(spec.portion.min, spec.pieces), mass_ratio, std::ceil);
            w.most_weight = divided(slab_limit(spec.portion.max, spec.pieces), mass_ratio, std::floor);
        }
    }

    /// Notches up to the sirloin face may be other numbers of cells than those in front of it.
    void keep_thickness(std::size_t option, length thickness) {
        const detail::option_window& w = windows_[option];
        const double wanted = detail::in_grains(thickness + kerf(option)) / detail::step_in_grains(meat_->step());
        const auto stride = static_cast<double>(w.stride);
        std::size_t cells = 0;
        const auto offer = [&](std::size_t least, std::size_t most) {
            const double notches = std::floor(static_cast<double>(most - least) / stride),
                         from_least = wanted - static_cast<double>(least);
            const std::size_t nearest =
                least + static_cast<std::size_t>(std::clamp(std::round(from_least / stride), 0.0, notches) * stride);
            const auto off = [&](std::size_t n) { return std::abs(static_cast<double>(n) - wanted); };
            if (cells == 0 || off(nearest) < off(cells)) cells = nearest;
        };
        const std::size_t end = end_and_kerf(option);
        if (w.least_cells <= w.most_cells) offer(w.least_cells, w.most_cells);
        if (w.first_to_end <= w.last_to_end) offer(end - w.last_to_end, end - w.first_to_end);
        if (cells > 0) narrow_cells(option, cells, cells);
    }

    void add_loose(const loose_cut& loose) {
        detail::option_window w;
        w.least_cells = whole_steps(detail::least_steps(loose.least_thickness, meat_->step()), 1);
        w.most_cells = cells();
        w.past_from = w.past_to = cells() + 1;
        w.first_to_end = start_;
        w.most_weight = no_limit;
        windows_.push_back(w);
        trims_.push_back(detail::trimmed_twice(rules_.trim_whole, loose.trim));
        detail::add_table(tables_, *meat_, trims_.back());
        backs_.emplace_back();
        windows_.back().last_to_end = last_remnant_start(windows_.size() - 1, 1.0);
    }

    /// The last position from which loose meat up to the sirloin face is thick and heavy enough.
    [[nodiscard]] std::size_t last_remnant_start(std::size_t option, double mass_ratio) const {
        const std::int64_t least = divided(to_micrograms(rules_.remnant.weight).count, mass_ratio, std::ceil);
        const std::span<const std::int64_t> kept = front(option);
        const auto enough = [&](std::size_t from) {
            return kept.back() - kept[from] >= least &&
                   detail::snapped(meat_->extent() - meat_->position(from)) >= rules_.remnant.thickness;
        };
        std::size_t none = cells(), some = 0; // what is behind position 0 is all there is
        while (none - some > 1) {
            const std::size_t middle = some + (none - some) / 2;
            (enough(middle) ? some : none) = middle;
        }
        return some;
    }

    void add_portions(const cut_spec& spec) {
        const double step = detail::step_in_grains(meat_->step()), kerf = detail::in_grains(spec.kerf);
        const double thin = detail::in_grains(spec.thickness.min), thick = detail::in_grains(spec.thickness.max);
        const bool narrow = thick - thin < step;
        detail::option_window w;
        double least = detail::least_steps(spec.thickness.min + spec.kerf, meat_->step());
        double most = detail::most_steps(spec.thickness.max + spec.kerf, meat_->step());
        if (least > most && narrow) { // no position inside: the nearest one, unless it is where the knife starts
            const double nearest = std::round((0.5 * (thin + thick) + kerf) / step);
            if (nearest * step > kerf && nearest >= 1.0) least = most = nearest;
        }
        w.least_cells = whole_steps(least, 1);
        w.most_cells = whole_steps(most, 0);
        // Behind the sirloin face there is nothing to cut, and the last cell may be short.
        const double extent = detail::in_grains(meat_->extent()), last_start = static_cast<double>(cells()) - 1.0;
        double first = std::ceil((extent - thick - 0.5 + detail::below_half) / step);
        double last = std::floor((extent - thin + 0.5 + detail::below_half) / step);
        if (first > last && narrow) first = last = std::round((extent - 0.5 * (thin + thick)) / step);
        first = std::max(first, 0.0);
        if (first <= last && first <= last_start) {
            w.first_to_end = static_cast<std::size_t>(first);
            w.last_to_end = static_cast<std::size_t>(std::min(last, last_start));
        }

        if (spec.thickness_step > length{}) set_notches(w, spec);
        w.past_from = positions_with(spec.gluteus_medius.towards_rib);
        w.past_to = positions_with(spec.gluteus_medius.towards_sirloin);
        keep_to_zone(w, spec);
        w.least_weight = slab_limit(spec.portion.min, spec.pieces);
        w.most_weight = slab_limit(spec.portion.max, spec.pieces);
        windows_.push_back(w);
        trims_.push_back(detail::trimmed_twice(rules_.trim_whole, spec.trim));
        detail::add_table(tables_, *meat_, trims_.back());
        backs_.push_back(spec.kerf > length{} ? masses_in_front_of_kerf(tables_.back(), spec.kerf)
                                              : std::vector<std::int64_t>{});
    }

    /// The thinnest slab is the nearest that the grid has to the first notch, and so are all others to theirs.
    void set_notches(detail::option_window& w, const cut_spec& spec) const {
        const double step = detail::step_in_grains(meat_->step()), kerf = detail::in_grains(spec.kerf);
        const double thin = detail::in_grains(spec.thickness.min), notch = detail::in_grains(spec.thickness_step);
        const double cells_a_notch = std::round(notch / step);
        if (!(cells_a_notch >= 1.0) || detail::nearest_whole(cells_a_notch * step) != notch)
            throw invalid_input(spec.name + ": thickness_step", spec.thickness_step,
                                sentence("a whole multiple of the grid's step, ") + meat_->step());
        const double last_start = static_cast<double>(cells()) - 1.0;
        const double notches = std::floor((detail::in_grains(spec.thickness.max) - thin) / notch);
        const double first = std::round((thin + kerf) / step),
                     last = std::round((detail::in_grains(meat_->extent()) - thin) / step);
        const double reach = std::min(notches, std::floor(static_cast<double>(cells()) / cells_a_notch));
        no_slab(w); // unless there is room
        w.stride = static_cast<std::size_t>(std::min(cells_a_notch, static_cast<double>(cells()) + 1.0));
        const bool cut = first >= 1.0 && first * step > kerf && first <= static_cast<double>(cells());
        if (cut) {
            w.least_cells = static_cast<std::size_t>(first);
            w.most_cells = w.least_cells + static_cast<std::size_t>(reach) * w.stride;
        }
        if (last >= 0.0 && last <= last_start) {
            w.last_to_end = static_cast<std::size_t>(last);
            w.first_to_end =
                w.last_to_end - std::min(static_cast<std::size_t>(reach), w.last_to_end / w.stride) * w.stride;
        }
    }

    /// No slab in front of the sirloin face; what is thicker than the loin does not get in the way of those up to the face.
    void no_slab_in_front(detail::option_window& w) const {
        w.least_cells = cells() + 1;
        w.most_cells = cells();
    }
    void no_slab(detail::option_window& w) const {
        no_slab_in_front(w);
        w.first_to_end = 1;
        w.last_to_end = 0;
    }

    void keep_to_zone(detail::option_window& w, const cut_spec& spec) const {
        const auto place = [&](std::size_t i, length off) { return detail::snapped(meat_->position(i) - off); };
        while (w.first_from < cells() && place(w.first_from, length{}) < spec.zone.min) ++w.first_from;
        if (meat_->extent() <= spec.zone.max) return;
        w.past_to = std::min(w.past_to, cells()); // the sirloin face lies outside
        while (w.past_to > 0 && place(w.past_to - 1, spec.kerf) > spec.zone.max) --w.past_to;
    }

    /// The positions of the sirloin face and a kerf behind it, rounded: a slab of n cells up to the face starts n before.
    [[nodiscard]] std::size_t end_and_kerf(std::size_t option) const {
        const length end = meat_->extent(), behind = std::min(kerf(option), end); // a kerf may be endless
        return static_cast<std::size_t>(
            std::llround(detail::in_grains(end + behind) / detail::step_in_grains(meat_->step())));
    }

    [[nodiscard]] std::size_t whole_steps(double steps, std::size_t least) const {
        return std::clamp(static_cast<std::size_t>(std::clamp(steps, 0.0, double(cells()))), least, cells());
    }

    /// How many positions there are before the gluteus medius share first exceeds `share`.
    [[nodiscard]] std::size_t positions_with(fraction share) const {
        const auto entered = meat_->gluteus_medius_entered();
        return static_cast<std::size_t>(std::upper_bound(entered.begin(), entered.end(), share) - entered.begin());
    }

    [[nodiscard]] static std::int64_t slab_limit(mass portion, int pieces) {
        if (!(to_mass({no_limit / 100}) > portion)) return no_limit;
        return to_micrograms(portion).count * pieces;
    }

    /// A limit of the true weight as one of the profile's. Whole micrograms below nine tonnes are exact as doubles.
    [[nodiscard]] static std::int64_t divided(std::int64_t limit, double ratio, double (*rounded)(double)) {
        const double quotient = rounded(static_cast<double>(limit) / ratio);
        if (limit == no_limit || !(quotient < static_cast<double>(no_limit))) return no_limit;
        return static_cast<std::int64_t>(quotient);
    }

    [[nodiscard]] std::vector<std::int64_t> masses_in_front_of_kerf(const yield_table& table, length kerf) const {
        std::vector<std::int64_t> masses(cells() + 1);
        for (std::size_t j = 1; j < cells(); ++j)
            masses[j] = table.kept_before(detail::profile_place::of(*meat_, meat_->position(j) - kerf));
        masses[cells()] = table.kept().back();
        return masses;
    }

    const profile* meat_;
    cut_list specs_;
    cutting_rules rules_;
    std::size_t start_ = 0;
    bool thicknesses_apart_ = false;
    std::vector<trim_spec> trims_;
    std::vector<yield_table> tables_;
    std::vector<std::vector<std::int64_t>> backs_; ///< empty where there is no kerf: then it is the front
    std::vector<detail::option_window> windows_;
    std::vector<detail::option_window> whole_windows_; ///< before slabs in front narrowed them; empty if none have
};

} // namespace tranche
