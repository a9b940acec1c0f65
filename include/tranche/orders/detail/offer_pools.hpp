// The loins of an order as whoever plans it knows them: how many there are of each kind, and every plan of it that was seen.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include <tranche/orders/detail/line_worth.hpp>
#include <tranche/orders/detail/order_clock.hpp>
#include <tranche/orders/order_offers.hpp>

namespace tranche::detail {

/// The plans of one kind of loin that were seen, each once.
class offer_pool {
public:
    [[nodiscard]] std::size_t size() const { return worth_.size(); }
    [[nodiscard]] std::int64_t worth(std::size_t plan) const { return worth_[plan]; }
    [[nodiscard]] const std::uint16_t* portions(std::size_t plan) const { return portions_.data() + plan * width_; }
    /// Which prices it was the best plan at; `by_nothing` for no plan at all, `by_counts` for one that is known by its portions.
    [[nodiscard]] std::uint32_t seen_at(std::size_t plan) const { return seen_at_[plan]; }
    static constexpr std::uint32_t by_nothing = 0xFFFF'FFFFU, by_counts = 0xFFFF'FFFEU;

    explicit offer_pool(std::size_t width) : width_(width) {}

    /// The number of a plan, which is entered if it is new.
    std::uint32_t enter(std::int64_t worth, const std::uint16_t* portions, std::uint32_t at) {
        for (std::size_t p = size(); p-- > 0;)
            if (worth_[p] == worth && std::equal(portions, portions + width_, this->portions(p)))
                return static_cast<std::uint32_t>(p);
        worth_.push_back(worth);
        portions_.insert(portions_.end(), portions, portions + width_);
        seen_at_.push_back(at);
        return static_cast<std::uint32_t>(size() - 1);
    }

private:
    std::size_t width_;
    std::vector<std::int64_t> worth_;
    std::vector<std::uint16_t> portions_;
    std::vector<std::uint32_t> seen_at_;
};

/// A kind of loin.
struct order_kind {
    std::int64_t count = 1;
    bool always = false; ///< opened
};

/// What an order is to those who look for prices and choose plans.
struct order_facts {
    std::vector<order_kind> kinds;
    std::vector<line_worth> lines;
};

/// Asks for offers, keeps all that were made, and the prices that they were made at.
class offer_pools {
public:
    offer_pools(const order_facts& facts, const order_pass& pass, order_clock& clock)
        : facts_(facts), pass_(pass), clock_(clock), pools_(facts.kinds.size(), offer_pool(facts.lines.size())) {
        const std::vector<std::uint16_t> nothing(facts.lines.size());
        for (std::size_t k = 0; k < pools_.size(); ++k)
            if (!facts.kinds[k].always) pools_[k].enter(0, nothing.data(), offer_pool::by_nothing);
    }

    [[nodiscard]] const order_facts& facts() const { return facts_; }
    [[nodiscard]] std::size_t lines() const { return facts_.lines.size(); }
    [[nodiscard]] const offer_pool& of(std::size_t kind) const { return pools_[kind]; }
    [[nodiscard]] offer_pool& of(std::size_t kind) { return pools_[kind]; }
    [[nodiscard]] const std::vector<std::int64_t>& prices(std::uint32_t asked) const { return asked_[asked]; }
    [[nodiscard]] order_clock& clock() const { return clock_; }

    /// What opening is paid for where it is no question: dearer than any loin and all its portions.
    static constexpr std::int64_t for_opening_anyway = 1'000'000'000'000'000'000;

    /// Whether a kind was opened when it was last asked, by its place then, at prices with one for opened loins.
    [[nodiscard]] bool opened(std::size_t place) const { return offers_.opened[place] != 0; }
    /// The number in its pool of what each of these kinds offers at these prices; of some of them perhaps what they offer if they are
    /// opened whether that pays or not (`anyway`, by place).
    template <class = when_called>
    void ask(const std::vector<std::int64_t>& prices, const std::vector<std::uint32_t>& kinds,
             std::vector<std::uint32_t>& picks, const std::vector<bool>& anyway = {}) {
        asked_.push_back(prices);
        if (anyway.empty())
            pass_(prices, kinds, offers_);
        else
            ask_apart(prices, kinds, anyway);
        clock_.count(kinds.size());
        picks.resize(kinds.size());
        for (std::size_t i = 0; i < kinds.size(); ++i)
            picks[i] = pools_[kinds[i]].enter(offers_.worth[i], offers_.portions.data() + i * lines(),
                                              static_cast<std::uint32_t>(asked_.size() - 1));
    }

private:
    /// Asks for kinds that are opened anyway at a price of their own, and puts both answers together.
    template <class = when_called>
    void ask_apart(std::vector<std::int64_t> prices, const std::vector<std::uint32_t>& kinds,
                   const std::vector<bool>& anyway) {
        offers_.worth.assign(kinds.size(), 0);
        offers_.portions.assign(kinds.size() * lines(), 0);
        offers_.opened.assign(kinds.size(), 0);
        prices.resize(lines() + 1); // where opening has no price, one of nothing
        for (const bool forced : {false, true}) {
            std::vector<std::uint32_t> some;
            for (std::size_t i = 0; i < kinds.size(); ++i)
                if (anyway[i] == forced) some.push_back(kinds[i]);
            if (some.empty()) continue;
            if (forced) prices.back() = for_opening_anyway;
            pass_(prices, some, apart_);
            for (std::size_t i = 0, k = 0; i < kinds.size(); ++i) {
                if (anyway[i] != forced) continue;
                offers_.worth[i] = apart_.worth[k];
                offers_.opened[i] = apart_.opened[k];
                std::copy_n(apart_.portions.begin() + static_cast<std::ptrdiff_t>(k * lines()), lines(),
                            offers_.portions.begin() + static_cast<std::ptrdiff_t>(i * lines()));
                ++k;
            }
        }
    }

    const order_facts& facts_;
    const order_pass& pass_;
    order_clock& clock_;
    std::vector<offer_pool> pools_;
    std::vector<std::vector<std::int64_t>> asked_;
    order_offers offers_, apart_;
};

} // namespace tranche::detail
