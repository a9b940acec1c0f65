// The operators new and delete of this program, which count. In a file of their own, so that no compiler sees through them.
// SPDX-License-Identifier: BSL-1.0
#include "optimise/counted_allocations.hpp"

#include <cstdlib>
#include <new>

namespace {
thread_local std::size_t count = 0;
} // namespace

std::size_t tranche_test::allocations() { return count; }

void* operator new(std::size_t size) {
    ++count;
    if (void* const room = std::malloc(size == 0 ? 1 : size)) return room;
    throw std::bad_alloc();
}
void* operator new[](std::size_t size) { return operator new(size); }
void operator delete(void* room) noexcept { std::free(room); }
void operator delete(void* room, std::size_t) noexcept { std::free(room); }
void operator delete[](void* room) noexcept { std::free(room); }
void operator delete[](void* room, std::size_t) noexcept { std::free(room); }
