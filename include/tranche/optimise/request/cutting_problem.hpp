// A request made ready for planning: for every way to use a stretch of the loin, its weights and its windows.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/detail/slab_graph.hpp>
#include <tranche/optimise/request/detail/cut_places.hpp>
#include <tranche/optimise/request/detail/mass_columns.hpp>
#include <tranche/optimise/request/detail/option_window.hpp>
#include <tranche/units/detail/snapped.hpp>

namespace tranche {
namespace detail {

/// What the rest of a loin has to go together with where an order of cuts or a common thickness links slabs.
struct slabs_in_front {
    std::vector<bool> cut;         ///< by spec: whether slabs of it lie in front
    std::vector<length> thickness; ///< by spec: what those have that must have one; zero for any
    bool any = false;              ///< whether a cut was made at all: then loose meat is as thick there as elsewhere
};

} // namespace detail

/// The options of a request are its loose cuts, then its specs: option o is loose cut o or, from `loose_count()` on, spec
/// o - loose_count(). On ties the earlier option wins, so loose meat gathers at the sirloin end. A slab [from, to) of
/// option o weighs back(o)[to] - front(o)[from], in micrograms: the kerf behind it is already taken off. Both never fall
/// from one position to the next. Options are below `option_count()`, positions 0 to `cells()`, not checked. Members throw
/// nothing but what they say. The profile must outlive the problem. Building it is O(cells × options).
class cutting_problem {
public:
    /// Throws `invalid_input` for specs or rules that are impossible in themselves or on this loin.
    cutting_problem(const profile& meat, cut_list specs, cutting_rules rules,
                    std::shared_ptr<const detail::mass_columns> known = {})
        : meat_(&meat), specs_(std::move(specs)), rules_(std::move(rules)) {
        make(std::move(known));
    }
    /// Another request for the same loin, with the tables of that one for the trims that are the same. Throws as the other.
    cutting_problem(const cutting_problem& like, cut_list specs, cutting_rules rules)
        : cutting_problem(like.meat(), std::move(specs), std::move(rules), like.columns_) {}
    /// A profile that nobody keeps would be gone before the problem is read: give it a name first.
    cutting_problem(const profile&& meat, cut_list specs, cutting_rules rules) = delete;
    /// Becomes another request, for a loin or for that of another problem and with its tables, in the room that there is: nothing
    /// is allocated for one that is no larger than those before, unless pinned cuts, rules on loose meat or an order need it.
    /// Throws as the constructors, and then has to become another one before it is used.
    void become(const profile& meat, const cut_list& specs, const cutting_rules& rules,
                std::shared_ptr<const detail::mass_columns> known = {}) {
        meat_ = &meat;
        specs_ = specs;
        rules_ = rules;
        make(std::move(known));
    }
    void become(const cutting_problem& like, const cut_list& specs, const cutting_rules& rules) {
        become(like.meat(), specs, rules, like.columns_);
    }
    void become(const profile&& meat, const cut_list&, const cutting_rules&) = delete;
    /// Holds no tables of other problems any more; has to become another one before it is used.
    void let_tables_go() { columns_->let_known_go(); }

    [[nodiscard]] const profile& meat() const { return *meat_; }        ///< what is cut
    [[nodiscard]] const cut_list& specs() const { return specs_; }      ///< on the grain of 1/16 um
    [[nodiscard]] const cutting_rules& rules() const { return rules_; } ///< likewise
    /// The tables of the trims of its cuts, which plans are weighed by.
    [[nodiscard]] const detail::yield_tables& tables() const { return columns_->tables(); }

    /// The same request for what is left of the loin: slabs lie behind position `start` (0 to cells(); the facing is no
    /// longer looked at), and all of it weighs `mass_ratio` (above zero) times what the profile says. The tables stay as
    /// they are, in micrograms of the profile; the limits of the weights are divided by the ratio and rounded inwards.
    /// Calls do not add up: `plan_rest(start(), 1.0)` is the whole request again. O(options).
    /// Throws `invalid_input` for another start or ratio, and for requests that link slabs: for those, say what is in front.
    void plan_rest(std::size_t start, double mass_ratio) {
        check_rest(start, mass_ratio);
        if (!rules_.order.empty())
            throw invalid_input("order", rules_.order.front().first + " before " + rules_.order.front().then,
                                "none where the rest of a loin is planned without the slabs in front of it");
        std::vector<detail::option_window> before = windows_;
        whole_again();
        if (const auto linked = varying(); !linked.empty()) {
            windows_ = std::move(before); // the lanes have not followed yet
            throw invalid_input(spec_of(linked.front()).name + ": one_thickness", "true",
                                "false where the rest of a loin is planned without the slabs in front of it");
        }
        start_with(start, mass_ratio);
    }
    /// The same behind slabs that the rest must go together with: cuts that should lie before one of those come no more, and
    /// cuts that must have one thickness have theirs, or the nearest that is allowed. `before` has an entry a spec.
    void plan_rest(std::size_t start, double mass_ratio, const detail::slabs_in_front& before) {
        check_rest(start, mass_ratio);
        if (before.cut.size() != specs_.size() || before.thickness.size() != specs_.size())
            throw invalid_input("before", "one that is not of these specs", "an entry for each of the specs");
        if (whole_windows_.empty()) whole_windows_ = windows_;
        whole_again();
        for (std::size_t o = 0; o < loose_count(); ++o) windows_[o].thin_at_start = !before.any;
        start_with(start, mass_ratio);
        for (std::size_t o = loose_count(); o < option_count(); ++o) {
            const length thickness = before.thickness[o - loose_count()];
            if (spec_of(o).one_thickness && thickness > length{}) keep_thickness(o, thickness);
            for (const cut_order& order : rules_.order)
                for (std::size_t then = 0; then < specs_.size(); ++then)
                    if (before.cut[then] && specs_[then].name == order.then && spec_of(o).name == order.first)
                        windows_[o].no_slab(cells());
            make_lane(o);
        }
    }

    /// Options whose slabs must have one thickness while their windows still leave a choice. O(options).
    [[nodiscard]] std::vector<std::size_t> varying() const {
        std::vector<std::size_t> options;
        for (std::size_t o = loose_count(); o < option_count() && !thicknesses_apart_; ++o)
            if (spec_of(o).one_thickness && cells_of(o).first < cells_of(o).second) options.push_back(o);
        return options;
    }
    /// Whether there is a slab of this option that its thickness and the slabs in front leave. O(1).
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
        if (w.least_cells < least) w.least_cells += w.in_strides(least - w.least_cells);
        w.most_cells = std::min(w.most_cells, most);
        if (w.least_cells > w.most_cells) w.no_slab_in_front(cells());
        const std::size_t end = end_and_kerf(option);
        if (most < end) w.first_to_end = std::max(w.first_to_end, end - most);
        w.end_before(static_cast<double>(end) - static_cast<double>(least));
        make_lane(option);
    }
    /// The same request with portions of `least` to `most` micrograms only. O(positions × options).
    void narrow_weights(std::int64_t least, std::int64_t most) {
        for (std::size_t o = loose_count(); o < option_count(); ++o) {
            detail::option_window& w = windows_[o];
            w.least_weight = std::max(w.least_weight, detail::of_pieces(least, pieces(o)));
            w.most_weight = std::min(w.most_weight, detail::of_pieces(most, pieces(o)));
            make_lane(o);
        }
    }
    /// The same request without portions thinner than this, whatever their specs allow. O(positions × options).
    void narrow_thickness(length thinnest) {
        const length step = meat_->step();
        const double last = detail::most_steps(meat_->extent() - thinnest, step); // start of a slab up to the face
        for (std::size_t o = loose_count(); o < option_count() && thinnest > length{}; ++o) {
            detail::option_window& w = windows_[o];
            if (const double least = detail::least_steps(thinnest + kerf(o), step);
                least > static_cast<double>(w.least_cells))
                w.least_cells += w.in_strides(static_cast<std::size_t>(least) - w.least_cells);
            if (w.least_cells > w.most_cells) w.no_slab_in_front(cells());
            w.end_before(last);
            make_lane(o);
        }
    }
    void let_thicknesses_differ() { thicknesses_apart_ = true; } ///< from now on, whatever specs say: a relaxation
    void let_order_go() { rules_.order.clear(); } ///< cuts may lie in any order from now on: a relaxation too

    /// The first position behind the facing, or where the rest starts: 0 to `cells()`.
    [[nodiscard]] std::size_t start() const { return start_; }
    [[nodiscard]] std::size_t cells() const { return meat_->cells(); }            ///< of the profile, 1 or more
    [[nodiscard]] std::size_t option_count() const { return windows_.size(); }    ///< loose cuts and specs, 2 or more
    [[nodiscard]] std::size_t loose_count() const { return rules_.loose.size(); } ///< loose cuts, 1 or more
    [[nodiscard]] bool is_portion(std::size_t option) const { return option >= loose_count(); } ///< not loose
    /// The spec of an option of portions, `loose_count()` or above.
    [[nodiscard]] const cut_spec& spec_of(std::size_t option) const { return specs_[option - loose_count()]; }
    /// Portions that a slab of this option gives, 1 to 100, and what is lost behind it, in metres: 0 for loose meat.
    [[nodiscard]] int pieces(std::size_t option) const { return is_portion(option) ? spec_of(option).pieces : 0; }
    [[nodiscard]] length kerf(std::size_t option) const { return is_portion(option) ? spec_of(option).kerf : length{}; }

    /// What comes off, on the whole loin and on the slab: what is left in metres, zero or more or unlimited.
    [[nodiscard]] const trim_spec& trim(std::size_t option) const { return trims_[option]; }
    [[nodiscard]] const detail::option_window& window(std::size_t option) const { return windows_[option]; } ///< limits
    /// Micrograms, never falling, in front of each of cells() + 1 positions, where a slab starts (`front`) or ends.
    [[nodiscard]] std::span<const std::int64_t> front(std::size_t option) const {
        return {fronts_[option], cells() + 1};
    }
    [[nodiscard]] std::span<const std::int64_t> back(std::size_t option) const { return {backs_[option], cells() + 1}; }
    /// Micrograms of the trimmed slab, zero or more; `from` is below `to`.
    [[nodiscard]] std::int64_t weight(std::size_t option, std::size_t from, std::size_t to) const {
        return backs_[option][to] - fronts_[option][from];
    }

    /// Whether [from, to) may be a slab of this option. Loose meat may be as thin as it comes at either end of the loin, and all
    /// of it may be the first loose cut.
    [[nodiscard]] bool allows(std::size_t option, std::size_t from, std::size_t to) const {
        if (from >= to || to <= start_ || to > cells()) return false;
        const detail::slab_lane& lane = graph_.lanes[option];
        if (lane.to(to).holds(from, lane.stride())) return true;
        return option == 0 && graph_.lanes.size() > option_count() && graph_.lanes.back().to(to).holds(from, 1);
    }
    /// The slabs that an option would have if its spec were this one but for trim, kerf and pieces, which are as they are; all of
    /// them, or only those light and heavy enough. O(positions).
    [[nodiscard]] detail::slab_lane lane_if(std::size_t option, const cut_spec& spec, bool of_any_weight) const {
        detail::option_window w = portion_window(spec);
        w.least_weight = of_any_weight ? 0 : windows_[option].least_weight;
        w.most_weight = of_any_weight ? detail::no_limit : windows_[option].most_weight;
        return portion_lane(option, w);
    }
    /// Slabs of an option of portions, whatever they weigh. O(positions).
    [[nodiscard]] detail::slab_lane lane_of_any_weight(std::size_t option) const {
        detail::option_window w = windows_[option];
        w.least_weight = 0;
        w.most_weight = detail::no_limit;
        return portion_lane(option, w);
    }
    /// The same request without some of its rules: those on where loose meat lies, on the remnant, on where cuts are. What keeps
    /// a cut out is found by leaving them out. O(cells × options).
    void leave_out(bool place_of_loose, bool remnant, bool places) {
        for (std::size_t o = 0; o < option_count(); ++o) {
            detail::option_window& w = windows_[o];
            if (is_portion(o)) {
                if (remnant && rules_.remnant.required) w = detail::window_of(*meat_, spec_of(o));
                continue;
            }
            if (remnant) w.last_to_end = cells();
            if (!place_of_loose) continue;
            w.first_from = 0;
            w.past_to = cells() + 1;
            w.between = w.thin_at_start = true;
        }
        if (places) places_ = {}, barred_.assign(option_count(), {});
        make_graph();
    }
    /// Where the knife has to go, and where it must not.
    [[nodiscard]] const detail::cut_places& places() const { return places_; }
    /// All slabs that are allowed, each by itself: a lane an option.
    [[nodiscard]] const detail::slab_graph& graph() const { return graph_; }

private:
    void make(std::shared_ptr<const detail::mass_columns> known) {
        specs_ = detail::snapped(std::move(specs_));
        rules_ = detail::snapped(std::move(rules_));
        validate(specs_);
        validate(rules_, meat_->extent());
        validate(rules_.order, specs_);
        start_ = detail::position_behind_facing(*meat_, rules_);
        places_ = detail::cut_places(*meat_, rules_);
        detail::require_facing_outside(*meat_, rules_, start_);
        const std::size_t options = rules_.loose.size() + specs_.size();
        if (columns_ && columns_.use_count() == 1) // no copy of the problem is left
            columns_->restart(*meat_, options, std::move(known));
        else
            columns_ = std::make_shared<detail::mass_columns>(*meat_, options, std::move(known));
        thicknesses_apart_ = false;
        trims_.clear();
        fronts_.clear();
        backs_.clear();
        windows_.clear();
        whole_windows_.clear();
        barred_.clear();
        for (const loose_cut& loose : rules_.loose) add_loose(loose);
        for (const cut_spec& spec : specs_) add_portions(spec);
        for (std::size_t o = 0; o < options; ++o) barred_.push_back(places_.barred(*meat_, kerf(o)));
        make_graph();
    }
    void check_rest(std::size_t start, double mass_ratio) const {
        if (start > cells())
            throw invalid_input("start", std::to_string(start),
                                "at most the last position, " + std::to_string(cells()));
        detail::require_positive(mass_ratio, "mass_ratio");
    }
    void whole_again() { // undoes what slabs in front have narrowed
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
            w.least_weight = detail::divided(detail::slab_limit(spec.portion.min, spec.pieces), mass_ratio, std::ceil);
            w.most_weight = detail::divided(detail::slab_limit(spec.portion.max, spec.pieces), mass_ratio, std::floor);
        }
        make_graph();
    }

    void make_graph() {
        graph_ = {start_, cells(), loose_count(), option_count(), std::move(graph_.lanes)};
        while (graph_.lanes.size() > option_count()) graph_.lanes.pop_back();
        graph_.lanes.reserve(option_count());
        for (std::size_t o = 0; o < option_count(); ++o)
            if (o < graph_.lanes.size())
                make_lane(o);
            else
                graph_.lanes.push_back(lane_of(o, {}));
        const detail::option_window& first = windows_.front();
        graph_.loose_everywhere =
            first.first_from <= start_ && first.past_to > cells() && first.thin_at_start && !places_.any();
        bool all_loose = true;
        for (std::size_t from = start_, to = 0; from < cells(); from = to) {
            to = places_.next_pin(from, cells());
            all_loose = all_loose && graph_.lanes.front().to(to).holds(from, 1);
        }
        if (!all_loose) graph_.lanes.push_back(detail::slab_lane::of_all_loose(0, start_, cells(), places_));
    }

    using lane_room = std::vector<detail::slab_starts>;

    /// Follows the window of an option.
    void make_lane(std::size_t option) {
        graph_.lanes[option] = lane_of(option, std::move(graph_.lanes[option]).room());
    }
    [[nodiscard]] detail::slab_lane lane_of(std::size_t option, lane_room room) const {
        const detail::option_window& w = windows_[option];
        if (is_portion(option)) return portion_lane(option, w, std::move(room));
        return as_placed(option, detail::slab_lane::of_loose(option, start_, cells(), w, places_, std::move(room)));
    }
    [[nodiscard]] detail::slab_lane portion_lane(std::size_t option, const detail::option_window& w,
                                                 lane_room room = {}) const {
        return as_placed(option, detail::slab_lane::of_portions(option, start_, cells(), w, fronts_[option],
                                                                backs_[option], std::move(room)));
    }
    [[nodiscard]] detail::slab_lane as_placed(std::size_t option, detail::slab_lane lane) const {
        if (!places_.any()) return lane;
        return lane.between(places_, barred_[option]);
    }

    void keep_thickness(std::size_t option, length thickness) {
        const double wanted = detail::in_grains(thickness + kerf(option)) / detail::step_in_grains(meat_->step());
        const std::size_t cells = detail::nearest_cells(windows_[option], wanted, end_and_kerf(option));
        if (cells > 0) narrow_cells(option, cells, cells);
    }

    void add_columns(const trim_spec& trim, length kerf) {
        trims_.push_back(detail::trimmed_twice(rules_.trim_whole, trim));
        const auto [front, back] = columns_->add(trims_.back(), kerf);
        fronts_.push_back(front);
        backs_.push_back(back);
    }
    void add_loose(const loose_cut& loose) {
        windows_.push_back(detail::window_of(*meat_, loose, start_));
        add_columns(loose.trim, length{});
        windows_.back().last_to_end = last_remnant_start(windows_.size() - 1, 1.0);
    }

    [[nodiscard]] std::size_t last_remnant_start(std::size_t option, double mass_ratio) const {
        return detail::last_remnant_start(*meat_, front(option), rules_.remnant, mass_ratio);
    }
    [[nodiscard]] std::size_t end_and_kerf(std::size_t option) const {
        return detail::end_and_kerf(*meat_, kerf(option));
    }
    void add_portions(const cut_spec& spec) {
        windows_.push_back(portion_window(spec));
        add_columns(spec.trim, spec.kerf);
    }

    [[nodiscard]] detail::option_window portion_window(const cut_spec& spec) const {
        detail::option_window w = detail::window_of(*meat_, spec);
        if (rules_.remnant.required) { // nothing else than loose meat ends at the sirloin face
            w.past_to = std::min(w.past_to, cells());
            w.first_to_end = 1;
            w.last_to_end = 0;
        }
        return w;
    }

    const profile* meat_;
    cut_list specs_;
    cutting_rules rules_;
    std::size_t start_ = 0;
    bool thicknesses_apart_ = false;
    detail::cut_places places_;
    std::vector<std::vector<bool>> barred_; ///< by option: the ends that `kept_whole` leaves no slab
    std::vector<trim_spec> trims_;
    std::shared_ptr<detail::mass_columns> columns_;   ///< shared with copies, and with problems of the same loin
    std::vector<const std::int64_t*> fronts_, backs_; ///< by option, into the columns; the same where there is no kerf
    std::vector<detail::option_window> windows_;
    detail::slab_graph graph_;                         ///< of the windows as they are
    std::vector<detail::option_window> whole_windows_; ///< before slabs in front narrowed them; empty if none have
};

} // namespace tranche
