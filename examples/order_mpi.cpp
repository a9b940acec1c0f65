// An order whose loins are spread over the ranks of MPI: prices travel to them, and what their loins give at those prices comes back.
// Run it as `mpirun -n 4 order_mpi [LOINS]`. The plan is the same, to the last bit, with any number of ranks: a digest says so.
// Invented scenario: a plant, its loins and its prices.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <span>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include <mpi.h>

#include <tranche/orders.hpp>
#include <tranche/tranche.hpp>

using namespace tranche;
using namespace tranche::literals;

namespace {

/// Loins of 4.4 to 6.4 kg at prices of their own, and five products. Every rank makes the same order; it tabulates its own loins only.
order<usd> order_of(std::size_t loins) {
    order<usd> wanted{.rules = {.facing = 6_mm}};
    std::uint32_t state = 20'260'801;
    const auto draw = [&state] { // a linear congruential generator (Numerical Recipes); 0 to 1
        state = state * 1'664'525U + 1'013'904'223U;
        return static_cast<double>(state >> 8U) / 16'777'216.0;
    };
    for (std::size_t i = 0; i < loins; ++i) {
        const mass weight = (4.4 + 2.0 * draw()) * kilogram;
        const unit_price<usd> price = (17.0 + 2.0 * draw()) * (1_usd / 1_kg);
        wanted.loins.push_back({.name = "loin " + std::to_string(i + 1),
                                .meat = loin_source([weight] { // made when it is asked for, by the rank that holds it
                                    return tabulate(typical_loin(weight, beef_strip_loin), 1_mm);
                                }),
                                .worth = weight * price});
    }
    for (int j = 0; j < 5; ++j) {
        const mass least = (180.0 + 70.0 * j) * gram;
        const auto number = static_cast<std::int64_t>(loins) * (j % 2 == 0 ? 3 : 2);
        wanted.lines.push_back({.cut = {.name = "cut " + std::to_string(j + 1),
                                        .thickness = {14_mm, 55_mm},
                                        .portion = {least, 1.15 * least}},
                                .at_least = number,
                                .at_most = number,
                                .price = {.each = least * (34_usd / 1_kg)},
                                .unfilled = 2_usd});
    }
    wanted.by_products[destination::grind] = 6_usd / 1_kg;
    return wanted;
}

/// What rank 0 asks of the others.
enum class ask : std::int64_t { offers, cut, done };

/// A rank's share of the loins, and what it says to the others.
class spread_loins {
public:
    spread_loins(const order<usd>& wanted, int rank, int ranks)
        : rank_(rank), ranks_(ranks), loins_(wanted.loins.size()), lines_(wanted.lines.size()),
          batch_(wanted, 1, first_of(rank), first_of(rank + 1)) {}

    [[nodiscard]] order_plan<usd> plan(const order<usd>& wanted) {
        auto found = plan_order(
            wanted, {},
            [&](std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins, order_offers& offers) {
                tell(ask::offers, prices, {loins.begin(), loins.end()});
                offers = offers_of(prices, loins);
            },
            [&](std::span<const std::int64_t> prices, std::size_t loin) {
                tell(ask::cut, prices, {static_cast<std::uint32_t>(loin)});
                return cut_of(prices, loin);
            });
        tell(ask::done, std::vector<std::int64_t>(lines_), {});
        return found;
    }
    /// Answers rank 0 until it is done.
    void answer() {
        for (;;) {
            std::vector<std::int64_t> head(2 + lines_);
            broadcast(head);
            if (head[0] == static_cast<std::int64_t>(ask::done)) return;
            std::vector<std::uint32_t> loins(static_cast<std::size_t>(head[1]));
            broadcast(loins);
            const std::span prices(head.data() + 2, lines_);
            if (head[0] == static_cast<std::int64_t>(ask::offers))
                (void)offers_of(prices, loins);
            else
                (void)cut_of(prices, loins.front());
        }
    }

private:
    [[nodiscard]] std::size_t first_of(int rank) const {
        return loins_ * static_cast<std::size_t>(rank) / static_cast<std::size_t>(ranks_);
    }
    template <class T>
    static void broadcast(std::vector<T>& values) {
        MPI_Bcast(values.data(), static_cast<int>(values.size() * sizeof(T)), MPI_BYTE, 0, MPI_COMM_WORLD);
    }
    void tell(ask what, std::span<const std::int64_t> prices, std::vector<std::uint32_t> loins) const {
        std::vector<std::int64_t> head{static_cast<std::int64_t>(what), static_cast<std::int64_t>(loins.size())};
        head.insert(head.end(), prices.begin(), prices.end());
        broadcast(head);
        if (what != ask::done) broadcast(loins);
    }

    /// All ranks call it; the offers of all loins are those of rank 0. Loins rise, so those of a rank stand side by side.
    [[nodiscard]] order_offers offers_of(std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins) {
        std::vector<int> count(static_cast<std::size_t>(ranks_)), first(count.size());
        for (int r = 0; r < ranks_; ++r) {
            const auto at = [&](int rank) {
                return std::lower_bound(loins.begin(), loins.end(), static_cast<std::uint32_t>(first_of(rank))) -
                       loins.begin();
            };
            first[static_cast<std::size_t>(r)] = static_cast<int>(at(r));
            count[static_cast<std::size_t>(r)] = static_cast<int>(at(r + 1) - at(r));
        }
        const auto mine = static_cast<std::size_t>(rank_);
        order_offers own, all;
        batch_.offers(prices,
                      loins.subspan(static_cast<std::size_t>(first[mine]), static_cast<std::size_t>(count[mine])), own);
        all.worth.resize(loins.size());
        all.portions.resize(loins.size() * lines_);
        gather(own.worth, all.worth, count, first, 1);
        gather(own.portions, all.portions, count, first, lines_);
        return all;
    }
    template <class T>
    void gather(const std::vector<T>& own, std::vector<T>& all, std::vector<int> count, std::vector<int> first,
                std::size_t each) const {
        const int bytes = static_cast<int>(each * sizeof(T));
        for (std::size_t r = 0; r < count.size(); ++r) count[r] *= bytes, first[r] *= bytes;
        MPI_Gatherv(own.data(), count[static_cast<std::size_t>(rank_)], MPI_BYTE, all.data(), count.data(),
                    first.data(), MPI_BYTE, 0, MPI_COMM_WORLD);
    }

    /// All ranks call it; the one that holds the loin says where the knife goes.
    [[nodiscard]] opened_loin cut_of(std::span<const std::int64_t> prices, std::size_t loin) {
        int owner = 0;
        while (first_of(owner + 1) <= loin) ++owner;
        opened_loin opened;
        std::vector<std::int64_t> words;
        if (rank_ == owner) {
            opened = batch_.cut_at(prices, loin);
            words = {opened.worth_billionths, opened.start};
            words.insert(words.end(), opened.portions.begin(), opened.portions.end());
            for (const compact_cut& cut : opened.cuts)
                words.insert(words.end(), {cut.to, cut.option, static_cast<std::int64_t>(cut.kind)});
        }
        if (owner == 0) return opened;
        if (rank_ == owner) MPI_Send(words.data(), static_cast<int>(words.size()), MPI_INT64_T, 0, 0, MPI_COMM_WORLD);
        if (rank_ != 0) return opened;
        MPI_Status status;
        int size = 0;
        MPI_Probe(owner, 0, MPI_COMM_WORLD, &status);
        MPI_Get_count(&status, MPI_INT64_T, &size);
        words.resize(static_cast<std::size_t>(size));
        MPI_Recv(words.data(), size, MPI_INT64_T, owner, 0, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
        opened = {.loin = loin, .worth_billionths = words[0], .start = static_cast<std::uint32_t>(words[1])};
        for (std::size_t j = 0; j < lines_; ++j) opened.portions.push_back(static_cast<std::uint32_t>(words[2 + j]));
        for (std::size_t w = 2 + lines_; w + 2 < words.size(); w += 3)
            opened.cuts.push_back({static_cast<std::uint32_t>(words[w]), static_cast<std::uint16_t>(words[w + 1]),
                                   static_cast<slab_kind>(words[w + 2])});
        return opened;
    }

    int rank_, ranks_;
    std::size_t loins_, lines_;
    order_batch batch_;
};

/// FNV-1a (Fowler, Noll and Vo) of everything that a plan says, 64 bits.
std::uint64_t digest_of(const order_plan<usd>& plan) {
    std::uint64_t digest = 14'695'981'039'346'656'037U;
    const auto take = [&](std::int64_t value) {
        for (int byte = 0; byte < 8; ++byte) {
            digest ^= static_cast<std::uint64_t>(value) >> (8 * byte) & 0xffU;
            digest *= 1'099'511'628'211U;
        }
    };
    take(plan.value_billionths);
    take(plan.bound_billionths);
    for (const opened_loin& opened : plan.opened) {
        for (const std::int64_t value : {static_cast<std::int64_t>(opened.loin), opened.count, opened.worth_billionths})
            take(value);
        for (const std::uint32_t count : opened.portions) take(count);
        for (const compact_cut& cut : opened.cuts) take(cut.to), take(cut.option), take(static_cast<int>(cut.kind));
    }
    for (const unopened_loin& left : plan.unopened) take(static_cast<std::int64_t>(left.loin)), take(left.count);
    for (const filled_line& line : plan.lines) take(line.made), take(line.price_billionths);
    return digest;
}

/// Plans on rank 0, with the others' answers.
void plan_by(int rank, int ranks, std::size_t loins) {
    const order<usd> wanted = order_of(loins);
    spread_loins spread(wanted, rank, ranks);
    if (rank > 0) return spread.answer();
    const order_plan<usd> plan = spread.plan(wanted);
    std::printf("Invented scenario. %zu loins by %d ranks, %zu opened, worth %.2f USD, at most %.2f, gap %.4f %%\n",
                loins, ranks, plan.opened.size(), plan.value().value(), plan.bound().value(),
                100.0 * plan.relative_gap());
    std::printf("digest %016llx\n", static_cast<unsigned long long>(digest_of(plan)));
}

} // namespace

int main(int count, char** words) {
    MPI_Init(&count, &words);
    int rank = 0, ranks = 1, status = 0;
    MPI_Comm_rank(MPI_COMM_WORLD, &rank);
    MPI_Comm_size(MPI_COMM_WORLD, &ranks);
    std::size_t loins = 0;
    const std::string_view asked = count > 1 ? words[1] : "60";
    const auto [end, error] = std::from_chars(asked.data(), asked.data() + asked.size(), loins);
    if (error != std::errc{} || end != asked.data() + asked.size() || loins < 1 || loins > 100'000) {
        if (rank == 0) std::fprintf(stderr, "LOINS: expected 1 to 100000\n");
        status = 2;
    } else {
        try {
            plan_by(rank, ranks, loins);
        } catch (const std::exception& trouble) { // the others would wait for ever
            std::fprintf(stderr, "%s\n", trouble.what());
            MPI_Abort(MPI_COMM_WORLD, 3);
        }
    }
    MPI_Finalize();
    return status;
}
