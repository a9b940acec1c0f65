// A cut sheet: an INI file in which a person writes down a loin, what may be cut from it, prices and alternatives.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/tranche.hpp>

#include <tranche/sheet/detail/cutting_sheet.hpp>
#include <tranche/sheet/detail/sheet_section.hpp>

namespace tranche::detail {

/// Ready-cut meat, and how it looks in the case if that is said.
template <currency C>
struct alternative {
    ready_cut<C> ready{};
    std::optional<ready_cut_look> look{};
};

/// Another loin, or something else, that could be bought.
template <currency C>
struct sheet_offer {
    std::string name{};
    purchase<C> bought{};
    fraction yield = 0.0, edible_share = 1.0;
    unit_price<C> rest{};
    duration time{};
};

/// Everything that a sheet says, in the units of the library.
template <currency C>
struct cut_sheet : cutting_sheet {
    purchase<C> bought;
    price_list<C> prices;
    std::vector<alternative<C>> alternatives;
    edible_basis basis;
    cutting_costs<C> costs;
    std::vector<sheet_offer<C>> offers;
};

/// Reads the sections of a sheet one by one into a `cut_sheet`, then checks it as a whole.
template <currency C>
class sheet_reader {
public:
    explicit sheet_reader(const sheet_sections& sections) {
        for (const char* required : {"sheet", "loin", "cutting"}) (void)section_named(sections, required);
        cutting_reader cutting(sheet_);
        for (const auto& section : sections) {
            sheet_section in(section.first, section.second);
            const bool cut = cutting.read(in), priced = read(in);
            if (!cut && !priced) throw std::logic_error("nobody reads [" + in.name() + ']');
        }
        cutting.finish(sections);
        check(sections);
    }
    [[nodiscard]] cut_sheet<C> result() && { return std::move(sheet_); }

private:
    /// What a section says of money; false if it may say nothing of it.
    bool read(sheet_section& in) {
        const std::string& name = in.name();
        const auto is = [&](std::string_view kind) { return name.size() > kind.size() && name.starts_with(kind); };
        if (name == "loin")
            bought(in);
        else if (is("cut "))
            price(in, trimmed(name.substr(4)));
        else if (name == "worth")
            worth(in);
        else if (name == "labour")
            labour(in);
        else if (name == "edible")
            edible(in);
        else if (name == "costs")
            costs(in);
        else if (is("compare "))
            compare(in, trimmed(name.substr(8)));
        else if (is("offer "))
            offered(in, trimmed(name.substr(6)));
        else
            return false;
        return true;
    }

    void bought(sheet_section& in) {
        sheet_.bought.weight = in.required<mass>("weight", "the invoiced weight, such as 12 lb 2 oz");
        (void)in.required_text("price", "the price paid, such as 8.10 " + std::string(C::code) + "/lb");
        sheet_.bought.price = in.monetary<unit_price<C>>("price");
        in.checked({{"purchase.weight", "weight"}}, [&] { validate(sheet_.bought); });
    }

    void price(sheet_section& in, const std::string& cut) {
        const bool priced = in.has("price") || in.has("price each");
        const portion_price<C> price{.by_weight = in.monetary<unit_price<C>>("price"),
                                     .each = in.monetary<money<C>>("price each")};
        if (priced) sheet_.prices.portions[cut] = price;
    }

    void labour(sheet_section& in) {
        sheet_.prices.labour = {.slab = in.monetary<money<C>>("slab"),
                                .portion = in.monetary<money<C>>("portion"),
                                .trimmed = in.monetary<money<C>>("trimmed portion")};
    }

    void worth(sheet_section& in) {
        for (const destination d : all_destinations)
            if (const std::string key(name_of(d)); in.has(key))
                sheet_.prices.by_products[d] = in.monetary<unit_price<C>>(key, true);
    }

    void edible(sheet_section& in) {
        auto& counts = sheet_.basis.counts;
        for (const auto& [key, t] :
             {std::pair("gluteus medius", tissue::gluteus_medius), std::pair("fat cover", tissue::fat_cover),
              std::pair("tail", tissue::tail), std::pair("silverskin", tissue::connective)})
            counts[t] = share(in, key, counts[t]);
    }

    void costs(sheet_section& in) {
        auto& costs = sheet_.costs;
        costs.time = in.optional<duration>("time", duration{});
        costs.pay = in.monetary<wage<C>>("wage");
        costs.packaging = in.monetary<money<C>>("packaging each");
        costs.freezing = in.monetary<unit_price<C>>("freezing");
        costs.frozen = share(in, "frozen", 1.0);
        costs.knife_wear = in.monetary<money<C>>("knife wear");
        in.checked({{"time (h)", "time"}}, [&] { validate(costs); });
    }

    void compare(sheet_section& in, const std::string& name) {
        (void)in.required_text("price", "the ready-cut price per weight");
        alternative<C> other{.ready = {.name = name, .price = in.monetary<unit_price<C>>("price")}};
        other.ready.replaces = listed(in.text("replaces"));
        if (in.has("replaces") && other.ready.replaces.empty()) in.refuse("replaces", "names of cuts in the sheet");
        const bool looks = in.has("fat cover") || in.has("tail") || in.has("silverskin") || in.has("gluteus medius");
        if (in.has("edible share")) {
            if (looks)
                in.refuse("edible share", "either that share, or fat cover, tail, silverskin and gluteus medius");
            other.ready.edible_share = edible_share_in(in);
        }
        ready_cut_look look{.trim = read_trim(in)};
        if (in.has("gluteus medius")) look.gluteus_medius = share(in, "gluteus medius", 0.0);
        if (looks) other.look = look;
        sheet_.alternatives.push_back(other);
    }

    void offered(sheet_section& in, const std::string& name) {
        const std::string price = "the price per weight";
        (void)in.required_text("price", price);
        sheet_offer<C> other{.name = name};
        other.bought = {.weight = in.required<mass>("weight", "the weight on offer, such as 12 lb"),
                        .price = in.monetary<unit_price<C>>("price")};
        other.yield = in.required<fraction>("yield", "portions out of that weight, such as 70 %");
        if (!(other.yield > 0.0 && other.yield <= 1.0)) in.refuse("yield", "a share above zero, at most 100 %");
        if (in.has("edible share")) other.edible_share = edible_share_in(in);
        other.rest = in.monetary<unit_price<C>>("rest is worth", true);
        other.time = in.optional<duration>("time", duration{});
        in.checked({{"weight", "weight"}}, [&] { require_positive(other.bought.weight, "weight"); });
        in.checked({{"time", "time"}}, [&] { require_not_negative(other.time / minute, "time"); });
        sheet_.offers.push_back(other);
    }

    [[nodiscard]] static fraction share(sheet_section& in, const std::string& key, fraction otherwise) {
        const auto value = in.optional<fraction>(key, otherwise);
        if (!(value >= 0.0 && value <= 1.0)) in.refuse(key, "a share of at most 100 %");
        return value;
    }
    [[nodiscard]] static fraction edible_share_in(sheet_section& in) {
        const fraction value = share(in, "edible share", 1.0);
        if (!(value > 0.0)) in.refuse("edible share", "a share above zero");
        return value;
    }

    void check(const sheet_sections& sections) {
        for (const auto& section : sections) {
            const sheet_section in(section.first, section.second);
            if (section.first.starts_with("cut ") && sheet_.plan_for == aim::best_value &&
                !sheet_.prices.portions.contains(trimmed(section.first.substr(4))))
                in.refuse("price", "a price, or a price each: the plan is for best value");
            if (section.first.starts_with("compare "))
                for (const std::string& name : listed(in.has("replaces") ? sheet_section(in).text("replaces") : ""))
                    if (std::none_of(sheet_.cuts.begin(), sheet_.cuts.end(),
                                     [&](const cut_spec& c) { return c.name == name; }))
                        throw invalid_input(in.field("replaces"), '"' + name + '"', "names of cuts in the sheet");
        }
    }

    cut_sheet<C> sheet_;
};

/// Reads a whole sheet in currency C. Throws `invalid_input` with section and key as its field.
template <currency C>
[[nodiscard]] cut_sheet<C> read_cut_sheet(const sheet_sections& sections) {
    return sheet_reader<C>(sections).result();
}

/// Calls f(C{}) in the currency that a sheet is written in: any of ISO 4217, and compiled once for all of them.
template <class F>
decltype(auto) in_currency_of(const sheet_sections& sections, F&& f) {
    sheet_section in("sheet", section_named(sections, "sheet"));
    const std::string code = in.required_text("currency", "an ISO 4217 code such as USD");
    iso_currency written;
    in.checked({{"currency", "currency"}}, [&] { written = iso_currency_named(code); });
    const currency_choice choice(written);
    return std::forward<F>(f)(chosen_currency{});
}

} // namespace tranche::detail
