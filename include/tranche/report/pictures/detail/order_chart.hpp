// What the picture of an order draws: loins by products, many loins in groups, and what was asked for below.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// A loin of the picture, or several that are cut alike.
struct order_row {
    std::string name{};
    std::size_t loins = 1;
    std::size_t kinds = 1; ///< how many rows of the order they are
    bool opened = true;
    bool together = false;                ///< several that are not cut alike: `portions` are those of all of them
    std::vector<std::int64_t> portions{}; ///< of each loin, one a product
};

/// What is drawn of an order, without quantities.
struct order_figures {
    struct product {
        std::string name{}, ordered{};
        std::int64_t made = 0, missing = 0, over = 0;
    };
    std::vector<product> products{};
    std::vector<order_row> loins{};
};

/// Loins that are cut alike in one row, the largest group first, those of one size as they stand; loins behind the first `most` - 1
/// rows, if there are so many, in a last one together. Loins that stay whole are one group. O(loins × products × log loins).
template <class = when_called>
[[nodiscard]] std::vector<order_row> grouped_loins(const std::vector<order_row>& loins, std::size_t most) {
    std::vector<order_row> groups;
    std::map<std::pair<bool, std::vector<std::int64_t>>, std::size_t> known;
    for (const order_row& loin : loins) {
        const auto [at, added] =
            known.try_emplace({loin.opened, loin.opened ? loin.portions : std::vector<std::int64_t>()}, groups.size());
        if (added)
            groups.push_back(loin);
        else
            groups[at->second].loins += loin.loins, groups[at->second].kinds += loin.kinds;
    }
    std::stable_sort(groups.begin(), groups.end(),
                     [](const order_row& a, const order_row& b) { return a.loins > b.loins; });
    if (groups.size() <= most) return groups;
    order_row rest{.loins = 0, .together = true};
    rest.portions.resize(loins.front().portions.size());
    for (std::size_t g = most - 1; g < groups.size(); ++g) {
        rest.loins += groups[g].loins;
        if (!groups[g].opened) continue;
        for (std::size_t p = 0; p < rest.portions.size(); ++p)
            rest.portions[p] += static_cast<std::int64_t>(groups[g].loins) * groups[g].portions[p];
    }
    groups.resize(most - 1);
    groups.push_back(std::move(rest));
    return groups;
}

/// Columns behind the first `most` - 1 products that have most portions as one.
template <class = when_called>
[[nodiscard]] order_figures with_fewer_products(order_figures figures, std::size_t most) {
    if (figures.products.size() <= most) return figures;
    std::vector<std::size_t> by_portions(figures.products.size());
    std::iota(by_portions.begin(), by_portions.end(), std::size_t{0});
    std::stable_sort(by_portions.begin(), by_portions.end(), [&](std::size_t a, std::size_t b) {
        return figures.products[a].made + figures.products[a].missing >
               figures.products[b].made + figures.products[b].missing;
    });
    by_portions.resize(most - 1);
    std::sort(by_portions.begin(), by_portions.end());
    order_figures fewer;
    order_figures::product others{.name = std::to_string(figures.products.size() - most + 1) + " more products"};
    for (const std::size_t p : by_portions) fewer.products.push_back(figures.products[p]);
    const auto apart = [&](std::size_t p) { return std::binary_search(by_portions.begin(), by_portions.end(), p); };
    for (std::size_t p = 0; p < figures.products.size(); ++p) {
        if (apart(p)) continue;
        others.made += figures.products[p].made;
        others.missing += figures.products[p].missing;
        others.over += figures.products[p].over;
    }
    fewer.products.push_back(std::move(others));
    for (order_row& loin : figures.loins) {
        std::vector<std::int64_t> portions;
        std::int64_t rest = 0;
        for (std::size_t p = 0; p < loin.portions.size(); ++p)
            if (apart(p))
                portions.push_back(loin.portions[p]);
            else
                rest += loin.portions[p];
        portions.push_back(rest);
        loin.portions = std::move(portions);
        fewer.loins.push_back(std::move(loin));
    }
    return fewer;
}

template <class = when_called>
class order_chart : canvas<> {
public:
    order_chart(order_figures figures, std::string name)
        : canvas<>(std::move(name), em, 0.6),
          apart_(figures.products.size() > most_products ? most_products - 1 : figures.products.size()),
          figures_(with_fewer_products(std::move(figures), most_products)),
          cell_(std::min((right - left) / static_cast<double>(figures_.products.size()), widest)) {
        for (const order_row& of : figures_.loins) loins_ += of.loins;
        grouped_ = figures_.loins.size() > most_rows;
        if (grouped_) figures_.loins = grouped_loins(figures_.loins, most_rows);
        for (const order_figures::product& p : figures_.products)
            turned_ = turned_ || width_of_text(p.name, 0.92 * em) * 0.75 > cell_ - 0.5 * em;
        for (const order_row& row : figures_.loins)
            if (!row.together)
                for (std::size_t p = 0; p < apart_; ++p) most_ = std::max(most_, row.portions[p]);
        top_ = turned_ ? 13.0 * em : 4.4 * em;
    }

    [[nodiscard]] std::string draw() {
        const auto rows = static_cast<double>(figures_.loins.size());
        const double foot = top_ + step * rows + 0.5 * em, height = foot + 4.0 * step + 2.6 * em;
        const std::string title = "The order: portions of each product out of each loin";
        begin(width, height, title, description(), chart_patterns());
        label(edge, 1.4 * em, title, {.what = "title", .bold = true, .room = width - 2.0 * edge});
        heads();
        for (std::size_t i = 0; i < figures_.loins.size(); ++i) loin(i);
        sums(foot);
        keys(foot + 4.0 * step + 1.4 * em);
        return end();
    }

private:
    static constexpr double width = 960.0, em = 15.0, edge = 12.0, left = 190.0, right = 890.0, step = 1.7 * em,
                            widest = 175.0;
    static constexpr std::size_t most_rows = 32, most_products = 24;

    [[nodiscard]] double x_of(std::size_t product) const { return left + cell_ * static_cast<double>(product); }
    [[nodiscard]] double end_of_cells() const { return x_of(figures_.products.size()); }

    void heads() {
        for (std::size_t p = 0; p < figures_.products.size(); ++p) {
            const double x = x_of(p) + 0.5 * cell_;
            if (turned_)
                label(x, top_ - 0.6 * em, figures_.products[p].name,
                      {.what = "product", .size = 0.92, .room = top_ - 3.0 * em, .upwards = true});
            else
                label(x, top_ - 0.6 * em, figures_.products[p].name,
                      {.what = "product", .anchor = "middle", .size = 0.92, .room = cell_ - 0.5 * em});
        }
        label(end_of_cells() + 0.6 * em, top_ - 0.6 * em, "in all", {.what = "head", .size = 0.92});
    }

    [[nodiscard]] static std::string name_of(const order_row& of) {
        const std::string count = std::to_string(of.loins);
        if (of.together) return count + " more, together";
        if (of.kinds == 1) return of.name;
        return count + (of.opened ? " loins, each" : " loins");
    }
    void loin(std::size_t i) {
        const order_row& of = figures_.loins[i];
        const double y = top_ + step * static_cast<double>(i), base = y + 1.2 * em;
        label(left - 0.6 * em, base, name_of(of), {.what = "loin", .anchor = "end", .room = left - edge - 0.6 * em});
        const double wide = end_of_cells() - left;
        if (!of.opened) {
            rect("whole", left, y + 1.0, wide, step - 2.0, {.colour = "#E4E4E4"});
            label(left + 0.5 * wide, base, of.loins == 1 ? "stays whole" : "stay whole",
                  {.what = "stays", .anchor = "middle", .size = 0.92, .room = wide - em});
            return;
        }
        std::int64_t all = 0;
        for (std::size_t p = 0; p < of.portions.size(); ++p) {
            const std::int64_t count = of.portions[p];
            all += count;
            const double shade = of.together || most_ == 0 ? 0.0
                                                           : 0.12 + 0.55 * static_cast<double>(std::min(count, most_)) /
                                                                        static_cast<double>(most_);
            fill_style style{.edge = {.width = 0.04, .colour = "#B0B0B0"}};
            if (count > 0 && shade > 0.0) {
                style.colour = palette::sky_blue;
                style.opacity = shade;
            }
            rect("cell", x_of(p), y, cell_, step, style);
            if (count > 0)
                label(x_of(p) + 0.5 * cell_, base, std::to_string(count),
                      {.what = "portions", .anchor = "middle", .room = cell_ - 2.0});
        }
        label(end_of_cells() + 0.6 * em, base, std::to_string(all),
              {.what = "all", .room = width - end_of_cells() - em});
    }

    /// What was made, what was asked for, and what is missing or left over.
    void sums(double y) {
        const auto name = [&](double at, const char* words) {
            label(left - 0.6 * em, at + 1.2 * em, words, {.what = "sum", .anchor = "end", .bold = true});
        };
        line("rule", edge, y, end_of_cells(), y, {.width = 0.1});
        name(y, "cut");
        name(y + step, "ordered");
        name(y + 2.0 * step, "missing");
        name(y + 3.0 * step, "left over");
        std::int64_t cut = 0;
        for (std::size_t p = 0; p < figures_.products.size(); ++p) {
            const order_figures::product& of = figures_.products[p];
            const auto cell = [&](double at, std::string_view what, const std::string& text, bool bold = false) {
                label(x_of(p) + 0.5 * cell_, at + 1.2 * em, text,
                      {.what = what, .anchor = "middle", .bold = bold, .room = cell_ - 2.0});
            };
            cut += of.made;
            cell(y, "made", std::to_string(of.made));
            if (!of.ordered.empty()) cell(y + step, "ordered", of.ordered);
            if (of.missing > 0) {
                rect("short", x_of(p), y + 2.0 * step + 1.0, cell_, step - 2.0, lacking());
                cell(y + 2.0 * step, "missing", std::to_string(of.missing), true);
            }
            if (of.over > 0) cell(y + 3.0 * step, "over", std::to_string(of.over));
        }
        label(end_of_cells() + 0.6 * em, y + 1.2 * em, std::to_string(cut),
              {.what = "all", .room = width - end_of_cells() - em});
    }
    [[nodiscard]] static fill_style lacking() { return {.colour = palette::orange, .opacity = 0.6}; }

    void keys(double y) {
        double x = swatch(edge, y, "portions, the darker the more", {.colour = palette::sky_blue, .opacity = 0.4});
        x = swatch(x, y, "a loin that is not opened", {.colour = "#E4E4E4"});
        x = swatch(x, y, "missing", lacking());
        if (grouped_)
            label(x + em, y, std::to_string(loins_) + " loins, those cut alike in one row",
                  {.what = "key", .size = 0.92});
    }

    /// The picture in words.
    [[nodiscard]] TRANCHE_COLD std::string description() const {
        std::string text;
        for (const order_row& of : figures_.loins) {
            text += name_of(of);
            if (!of.opened) {
                text += of.loins == 1 ? " stays whole. " : " stay whole. ";
                continue;
            }
            const char* between = ": ";
            for (std::size_t p = 0; p < of.portions.size(); ++p) {
                if (of.portions[p] == 0) continue;
                text += between + std::to_string(of.portions[p]) + " × " + figures_.products[p].name;
                between = ", ";
            }
            text += ". ";
        }
        for (const order_figures::product& of : figures_.products) {
            text += of.name + ": " + std::to_string(of.made) + " cut";
            if (!of.ordered.empty()) text += ", " + of.ordered + " ordered";
            if (of.missing > 0) text += ", " + std::to_string(of.missing) + " missing";
            if (of.over > 0) text += ", " + std::to_string(of.over) + " left over";
            text += ". ";
        }
        if (!text.empty()) text.pop_back();
        return text;
    }

    std::size_t apart_; ///< products with a column of their own
    order_figures figures_;
    double cell_, top_ = 0.0;
    std::size_t loins_ = 0;
    std::int64_t most_ = 0;
    bool turned_ = false, grouped_ = false;
};

} // namespace tranche::detail
