// What a batch answers at prices: a price for opened loins opens just those that it pays for.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

#include "orders/batches.hpp"

namespace order_batch_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("a price behind those of the lines opens the loins that it pays for, and is no worth of theirs") {
    std::size_t more = 0, fewer = 0;
    for (std::uint64_t seed = 1; seed < rounds(4, 40); ++seed) {
        dice d(seed + 2'600'000);
        const order<usd> wanted = random_order(d, 12, 2, 6);
        const order_batch batch(wanted);
        std::vector<std::uint32_t> loins;
        for (std::uint32_t i = 0; i < wanted.loins.size(); ++i) loins.push_back(i);
        std::vector<std::int64_t> prices;
        for (std::size_t j = 0; j < batch.lines(); ++j) {
            const double price = d.between(1.0, 9.0);
            prices.push_back(static_cast<std::int64_t>(price * 1e9));
        }
        const auto value = [&](const order_offers& of, std::size_t i) {
            std::int64_t sum = of.worth[i];
            for (std::size_t j = 0; j < batch.lines(); ++j) sum += prices[j] * of.portions[i * batch.lines() + j];
            return sum;
        };
        order_offers all, now;
        std::vector<std::int64_t> counted = prices;
        counted.push_back(1'000'000'000'000); // opens whatever there is
        batch.offers(counted, loins, all);
        batch.offers(prices, loins, now);
        CHECK(now.opened.empty());
        for (const std::int64_t price : std::vector<std::int64_t>{-5'000'000'000, -1, 0, 1, 5'000'000'000}) {
            counted.back() = price;
            order_offers found;
            batch.offers(counted, loins, found);
            for (std::size_t i = 0; i < loins.size(); ++i) {
                CAPTURE(seed, price, i);
                REQUIRE(all.opened[i] == 1);
                const bool always = wanted.loins[i].opening == loin_opening::always;
                CHECK((found.opened[i] == 1) == (always || value(all, i) + price > 0));
                CHECK(value(found, i) == (found.opened[i] == 1 ? value(all, i) : 0));
                if (price == 0) CHECK(value(found, i) == value(now, i));
                more += price > 0 && found.opened[i] == 1 && value(now, i) == 0 ? 1U : 0U;
                fewer += price < 0 && found.opened[i] == 0 && value(now, i) > 0 ? 1U : 0U;
            }
        }
    }
    CHECK(more > 0);
    CHECK(fewer > 0);
}

TEST_CASE("each thread of a batch cuts a loin alike") {
    dice d(2'610'000);
    const order<usd> wanted = random_order(d, 4, 2, 6);
    const order_batch batch(wanted, 3);
    REQUIRE(batch.threads() == 3);
    const std::vector<std::int64_t> prices(batch.lines(), 6'000'000'000);
    for (std::size_t loin = 0; loin < batch.size(); ++loin)
        for (std::size_t thread = 1; thread < 3; ++thread)
            CHECK(batch.cut_at(prices, loin, thread) == batch.cut_at(prices, loin));
}

} // namespace order_batch_test
