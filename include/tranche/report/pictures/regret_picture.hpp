// What a cut costs at each place along the loin, as SVG: how dear, where it costs more than this picture counts, and where none may be.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/plans/cut_regrets.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What the last part of a score counts, for people: `one` of it is one `unit`. Mass in portions: {"g", 1e6}; the worth of a plan in
/// dollars: {"USD", 1e9}. The scores of `most_portions` and `least_waste` are one number for both, in which a gram is no round
/// figure: ask for portions and mass as two parts (`lexicographic`) to read grams.
struct regret_scale {
    std::string unit = "units of the objective";
    double one = 1.0; ///< above zero

    friend bool operator==(const regret_scale&, const regret_scale&) = default;
};

namespace detail {

template <class = when_called>
class regret_chart : canvas<> {
public:
    regret_chart(const std::vector<cut_regret>& regrets, const cutting_plan& cuts, const regret_scale& scale,
                 const kitchen_units& units, std::string name)
        : canvas<>(std::move(name), em, 2.0 / 3.0), regrets_(regrets), cuts_(cuts), scale_(scale), units_(units) {
        for (const cut_regret& r : regrets) part_ = std::max(part_, r.part);
        double most = 0.0;
        for (const cut_regret& r : regrets)
            if (what(r) == kind::counted) most = std::max(most, r.lost / scale.one);
        lost_ = {.low = 0.0, .high = most > 0.0 ? 1.05 * most : 1.0, .from = bottom, .to = top};
        along_ = {.low = 0.0, .high = cuts.extent / millimetre, .from = left, .to = right};
    }

    [[nodiscard]] std::string draw() {
        const std::string title = "What a cut costs along the loin";
        begin(960.0, 400.0, title, description(), chart_patterns());
        label(left, 26.0, title, {.what = "title", .size = 18.0 / em, .bold = true, .room = right - left});
        label(left, top - 12.0, "lost by a cut here, " + scale_.unit, {.what = "axis", .room = right - left});
        axes();
        places();
        for (const slab& s : cuts_.slabs)
            if (const double x = along_.at(s.end() / millimetre); s.end() < cuts_.extent)
                line("cut", x, top, x, bottom + 6.0, {.width = 0.12});
        keys();
        return end();
    }

private:
    static constexpr double em = 13.0, left = 92.0, right = 936.0, top = 64.0, bottom = 320.0;
    enum class kind { counted, more, none };

    [[nodiscard]] kind what(const cut_regret& r) const {
        if (!std::isfinite(r.lost)) return kind::none;
        return r.part < part_ && r.lost > 0.0 ? kind::more : kind::counted;
    }
    void axes() {
        const double step = lost_.step(3.0 * em);
        const int digits = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
        for (const double mark : lost_.marks(step)) {
            line("grid", left, lost_.at(mark), right, lost_.at(mark), {.width = 0.08, .colour = "#D9D9D9"});
            label(left - 8.0, lost_.at(mark) + 0.35 * em, shown(mark, digits),
                  {.what = "tick", .anchor = "end", .room = left - 16.0});
        }
        const double one = unit_along();
        picture_axis figures = along_;
        figures.high /= one;
        for (const double mark : figures.marks(figures.step(4.0 * em))) {
            line("mark", figures.at(mark), bottom, figures.at(mark), bottom + 5.0, {.width = 0.08});
            label(figures.at(mark), bottom + 20.0, shown(mark, 2), {.what = "figure", .anchor = "middle"});
        }
        label(0.5 * (left + right), bottom + 38.0, "from the rib face, " + std::string(inches() ? "in" : "mm"),
              {.what = "axis", .anchor = "middle"});
    }
    [[nodiscard]] bool inches() const { return units_.along.in == length_division::unit::inches; }
    [[nodiscard]] double unit_along() const { return inches() ? 25.4 : 1.0; }

    [[nodiscard]] double x_of(std::size_t i) const { return along_.at(regrets_[i].at / millimetre); }
    /// Runs of places of one kind: what is counted as an area, the others as bars half a step wider.
    void places() {
        for (std::size_t i = 0; i < regrets_.size();) {
            const kind here = what(regrets_[i]);
            std::size_t past = i;
            while (past < regrets_.size() && what(regrets_[past]) == here) ++past;
            const double from = i == 0 ? x_of(0) : 0.5 * (x_of(i - 1) + x_of(i));
            const double to = past == regrets_.size() ? x_of(past - 1) : 0.5 * (x_of(past - 1) + x_of(past));
            if (here != kind::counted) {
                rect(here == kind::more ? "more" : "none", from, top, to - from, bottom - top, style_of(here));
            } else {
                std::vector<picture_point> outline{{from, bottom}};
                for (std::size_t k = i; k < past; ++k)
                    outline.push_back({x_of(k), lost_.at(regrets_[k].lost / scale_.one)});
                outline.push_back({to, bottom});
                path("lost", path_through(outline, true), style_of(here));
            }
            i = past;
        }
        rect("frame", left, top, right - left, bottom - top, {.edge = {.width = 0.08}});
    }
    [[nodiscard]] static fill_style style_of(kind what) {
        if (what == kind::counted)
            return {.colour = palette::sky_blue, .opacity = 0.8, .edge = {.width = 0.08, .colour = palette::blue}};
        if (what == kind::more) return {.colour = palette::orange, .pattern = "stripes", .opacity = 0.6};
        return {.colour = "#D9D9D9", .pattern = "cross"};
    }
    void keys() {
        const double y = 388.0;
        double x = swatch(left, y, "lost", style_of(kind::counted));
        if (any(kind::more)) x = swatch(x, y, "more important things are lost", style_of(kind::more));
        if (any(kind::none)) x = swatch(x, y, "no plan has a cut here", style_of(kind::none));
        line("key", x + em, y - 1.0 * em, x + em, y + 0.2 * em, {.width = 0.12});
        label(x + 2.0 * em, y, "cut of the plan", {.what = "key", .size = 0.92});
    }
    [[nodiscard]] bool any(kind which) const {
        return std::any_of(regrets_.begin(), regrets_.end(), [&](const cut_regret& r) { return what(r) == which; });
    }

    [[nodiscard]] std::string description() const {
        std::size_t nothing = 0, more = 0, none = 0;
        const cut_regret* dearest = nullptr;
        for (const cut_regret& r : regrets_) {
            nothing += r.lost == 0.0;
            more += what(r) == kind::more;
            none += what(r) == kind::none;
            if (what(r) == kind::counted && (dearest == nullptr || dearest->lost < r.lost)) dearest = &r;
        }
        std::string text = "Of " + std::to_string(regrets_.size()) + " places a cut costs nothing at " +
                           std::to_string(nothing) + ", more important things at " + std::to_string(more) +
                           ", and is impossible at " + std::to_string(none) + '.';
        if (dearest != nullptr && dearest->lost > 0.0)
            text += " The most that is lost otherwise is " + shown(dearest->lost / scale_.one, 2) + ' ' + scale_.unit +
                    ", at " + shown(dearest->at) + " from the rib face.";
        return text;
    }

    const std::vector<cut_regret>& regrets_;
    const cutting_plan& cuts_;
    const regret_scale& scale_;
    const kitchen_units& units_;
    std::size_t part_ = 0;
    picture_axis lost_, along_;
};

} // namespace detail

/// `cut_regrets` along the loin, with the cuts of a plan of it: how much of the last part of the score a cut at each
/// place costs, bars where it costs something of the parts before that (a portion, of a score of portions and then
/// mass), and where no plan has a cut. 960 by 400 pixels, self-contained; `name` begins the ids. Throws `invalid_input`
/// for no regrets at all, and for a scale whose `one` is not above zero. O(places). Costs are in the unit of `scale`,
/// places written in `units`.
template <class = detail::when_called>
[[nodiscard]] std::string cut_regrets_svg(const std::vector<cut_regret>& regrets, const cutting_plan& cuts,
                                          const regret_scale& scale = {}, const kitchen_units& units = us_kitchen,
                                          const std::string& name = "regrets") {
    if (regrets.empty()) throw invalid_input("regrets", "none", "what a cut costs at one place at least");
    detail::require_positive(scale.one, "scale.one");
    return detail::regret_chart<>(regrets, cuts, scale, units, name).draw();
}

} // namespace tranche
