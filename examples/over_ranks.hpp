// An executor of our own: each rank of an MPI program runs its shard of the batches, and all hear what the others came to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include <mpi.h>

#include <tranche/study.hpp>

namespace example {

/// MPI between its beginning and its end.
class mpi_session {
public:
    mpi_session(int& argc, char**& argv) { MPI_Init(&argc, &argv); }
    ~mpi_session() { MPI_Finalize(); }
    mpi_session(const mpi_session&) = delete;
    mpi_session& operator=(const mpi_session&) = delete;
};

/// See `tranche::study_executor`. Every rank calls `run_study` with the same model and options, and gets the whole result. A stop
/// signal or a limit of time must come to all ranks alike: here there is none.
class over_ranks {
public:
    static constexpr bool complete = true;

    over_ranks() {
        MPI_Comm_rank(MPI_COMM_WORLD, &rank_);
        MPI_Comm_size(MPI_COMM_WORLD, &size_);
    }
    [[nodiscard]] int rank() const { return rank_; }
    [[nodiscard]] int size() const { return size_; }

    template <class Work>
    [[nodiscard]] tranche::study_result operator()(tranche::batch_range batches, const Work& work) const {
        const tranche::shard mine(static_cast<std::uint64_t>(rank_), static_cast<std::uint64_t>(size_));
        const std::vector<std::byte> own = tranche::study_bytes(mine(batches, work));

        const auto ranks = static_cast<std::size_t>(size_);
        const int bytes = static_cast<int>(own.size());
        std::vector<int> sizes(ranks), places(ranks);
        MPI_Allgather(&bytes, 1, MPI_INT, sizes.data(), 1, MPI_INT, MPI_COMM_WORLD);
        for (std::size_t i = 1; i < ranks; ++i) places[i] = places[i - 1] + sizes[i - 1];
        std::vector<std::byte> all(static_cast<std::size_t>(places.back() + sizes.back()));
        MPI_Allgatherv(own.data(), bytes, MPI_BYTE, all.data(), sizes.data(), places.data(), MPI_BYTE, MPI_COMM_WORLD);

        const auto part = [&](std::size_t i) {
            return tranche::read_study_bytes(std::span<const std::byte>(all).subspan(
                static_cast<std::size_t>(places[i]), static_cast<std::size_t>(sizes[i])));
        };
        tranche::study_result whole = part(0);
        for (std::size_t i = 1; i < ranks; ++i) whole.merge(part(i));
        return whole;
    }

private:
    int rank_ = 0, size_ = 1;
};

} // namespace example
