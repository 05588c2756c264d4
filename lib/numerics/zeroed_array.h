#pragma once

#include <cassert>
#include <cstddef>
#include <cstdlib>
#include <memory>
#include <new>
#include <type_traits>

namespace thickset {

/// Numbers that begin as zero. Memory that is never written costs no memory of the machine: a grid
/// around a ball leaves the pages of its corners untouched.
template <class Number>
class ZeroedArray {
  static_assert(std::is_arithmetic_v<Number>);

 public:
  ZeroedArray() = default;

  /// Throws std::bad_alloc.
  explicit ZeroedArray(std::size_t size)
      : size_{size}, data_{static_cast<Number*>(std::calloc(size, sizeof(Number)))} {
    if (size > 0 && !data_) throw std::bad_alloc{};
  }

  std::size_t size() const { return size_; }
  bool empty() const { return size_ == 0; }
  Number* data() { return data_.get(); }
  const Number* data() const { return data_.get(); }
  Number& operator[](std::size_t i) {
    assert(i < size_);
    return data_.get()[i];
  }
  const Number& operator[](std::size_t i) const {
    assert(i < size_);
    return data_.get()[i];
  }

 private:
  struct Free {
    void operator()(Number* data) const { std::free(data); }
  };
  std::size_t size_ = 0;
  std::unique_ptr<Number[], Free> data_;
};

}  // namespace thickset
