// A waterfall of money as SVG: what was paid for which part, what came back of it, and what was saved or lost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/detail/saving_figures.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

template <class = when_called>
class waterfall_chart : canvas<> {
public:
    waterfall_chart(const std::vector<step_figures>& steps, iso_currency in, std::string name)
        : canvas<>(std::move(name), em, 2.0 / 3.0), steps_(steps), in_(std::move(in)) {
        axis_.low = axis_.high = 0.0;
        for (const step_figures& s : steps_) {
            axis_.low = std::min(axis_.low, whole(s.level));
            axis_.high = std::max(axis_.high, whole(s.level));
        }
        if (!(axis_.high > axis_.low)) axis_.high = axis_.low + 1.0;
    }

    [[nodiscard]] std::string draw(const std::string& title) {
        const double foot = top + row * static_cast<double>(steps_.size());
        begin(width, foot + 3.2 * em, title, description(), chart_patterns());
        label(edge, 1.4 * em, title, {.what = "title", .bold = true, .room = width - 2.0 * edge});
        // Marks at least as far apart as their figures are wide.
        const double figures = std::max(width_of_text(shown(axis_.low), em), width_of_text(shown(axis_.high), em));
        const double step = axis_.step(std::max(3.0 * em, 1.2 * figures));
        for (const double value : axis_.marks(step)) {
            const double x = axis_.at(value);
            line("mark", x, top - 0.3 * em, x, foot, {.colour = "#BBBBBB"});
            label(x, top - 0.6 * em, shown(value),
                  {.what = "mark", .anchor = "middle", .room = axis_.at(step) - axis_.at(0.0)});
        }
        label(width - edge, top - 0.6 * em, in_.code, {.what = "mark", .anchor = "end", .room = width - edge - right});
        line("zero", axis_.at(0.0), top - 0.3 * em, axis_.at(0.0), foot, {.width = 0.1});
        for (std::size_t i = 0; i < steps_.size(); ++i) step_at(i);
        double x = edge;
        for (const kind k : {kind::paid, kind::lost, kind::back, kind::total})
            x = swatch(x, foot + 2.0 * em,
                       k == kind::paid   ? "paid"
                       : k == kind::lost ? "paid for what was lost"
                       : k == kind::back ? "came back"
                                         : "total",
                       look_of(k));
        return end();
    }

private:
    enum class kind { paid, lost, back, total };
    static constexpr double width = 960.0, em = 15.0, edge = 12.0, left = 372.0, right = 836.0, top = 4.4 * em,
                            row = 1.8 * em;

    [[nodiscard]] double whole(std::int64_t minor) const {
        return static_cast<double>(minor) / static_cast<double>(power_of_ten(in_.minor_digits));
    }
    [[nodiscard]] static fill_style look_of(kind k) {
        switch (k) {
        case kind::paid: return {.colour = palette::vermillion, .pattern = "stripes", .edge = {}};
        case kind::lost: return {.colour = palette::orange, .pattern = "cross", .edge = {}};
        case kind::back: return {.colour = palette::sky_blue, .edge = {}};
        case kind::total: break;
        }
        return {.colour = palette::black, .edge = {}};
    }

    void step_at(std::size_t i) {
        const step_figures& s = steps_[i];
        const double y = top + row * static_cast<double>(i), base = y + 1.15 * em;
        const double from = axis_.at(s.total ? 0.0 : whole(s.level) - whole(s.change)), to = axis_.at(whole(s.level));
        const kind k = s.total                        ? kind::total
                       : s.part == savings_part::loss ? kind::lost
                       : s.change < 0                 ? kind::paid
                                                      : kind::back;
        if (s.total) line("rule", edge, y, width - edge, y);
        label(edge, base, printable(*s.text), {.what = "step", .bold = s.total, .room = left - edge - em});
        rect(s.total ? "total" : "step", std::min(from, to), y + 0.25 * em, std::max(std::abs(to - from), 0.75),
             row - 0.5 * em, look_of(k));
        if (i + 1 < steps_.size()) line("link", to, y + row - 0.25 * em, to, y + row + 0.25 * em);
        label(width - edge, base, (s.total || s.change <= 0 ? "" : "+") + money_number(s.change, in_),
              {.what = "value", .anchor = "end", .bold = s.total, .room = width - edge - right - 0.5 * em});
    }

    /// Every step in words, for those who do not see the picture.
    [[nodiscard]] std::string description() const {
        std::string text;
        for (const step_figures& s : steps_)
            text += (text.empty() ? "" : ", ") + printable(*s.text) + ' ' + money_number(s.change, in_);
        return text + "; in " + in_.code + '.';
    }

    const std::vector<step_figures>& steps_;
    iso_currency in_;
    picture_axis axis_{.from = left, .to = right};
};

} // namespace detail

/// The steps of `cost_breakdown` as floating bars, one a row, each with its text and amount, on a common axis; totals
/// reach to zero. Self-contained; money out is striped, what was lost crossed, totals are black, so that it reads in
/// greyscale. `against` is the alternative, empty if there is none; `name` begins the ids, for pages with several
/// pictures. Throws `invalid_input` for no steps. O(steps). Money is written to the minor unit.
template <currency C>
[[nodiscard]] std::string waterfall_svg(const std::vector<cost_step<C>>& steps, const std::string& against,
                                        const std::string& name = "waterfall") {
    if (steps.empty()) throw invalid_input("steps", "none", "at least one");
    return detail::waterfall_chart<>(detail::figures_of(steps), detail::iso_form<C>(), name)
        .draw("Where the money went" + (against.empty() ? "" : ", against " + detail::printable(against)));
}

} // namespace tranche
