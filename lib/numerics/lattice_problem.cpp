#include "numerics/lattice_problem.h"

#include <algorithm>
#include <tuple>

namespace thickset {
namespace {

/// The coarse link from fine node `from`: over the fine node between to the one beyond.
struct LongLink {
  bool ends = false;
  float distance = 0.0F;  // in coarse spacings
  float weight = 0.0F;    // 0: nothing beyond
};

LongLink long_link(const LatticeProblem& fine, std::ptrdiff_t from, Direction towards) {
  if (const LinkEnd* end = fine.end(from, towards)) {
    return {true, 0.5F * end->distance, end->weight};
  }
  const std::ptrdiff_t between = from + fine.lattice.step(towards);
  const float first = fine.link(from, towards);
  if (!fine.has(between) || !(first > 0.0F)) return {};
  if (const LinkEnd* end = fine.end(between, towards)) {
    // first link, then end: resistances add
    return {true, 0.5F * (1.0F + end->distance), 0.5F * (first + end->weight)};
  }
  const float second = fine.link(between, towards);
  if (!fine.has(between + fine.lattice.step(towards)) || !(second > 0.0F)) return {};
  return {false, 0.0F, 0.5F * (first + second)};
}

/// Mean w of the two fine links in line from `from`; 0 for links that lead nowhere.
float mean_link(const LatticeProblem& fine, std::ptrdiff_t from, Direction towards) {
  const std::ptrdiff_t step = fine.lattice.step(towards);
  if (!fine.has(from + step)) return 0.0F;
  const float first = fine.has(from) ? fine.link(from, towards) : 0.0F;
  const float second = fine.has(from + 2 * step) ? fine.link(from + step, towards) : 0.0F;
  return 0.5F * (first + second);
}

/// A coarse face reaches half way to the fine links beside: its share of open area over that of the
/// line in its middle. Links beyond a surface held at 0 say nothing of insulated ones.
float share_beside(const LatticeProblem& fine, std::ptrdiff_t from, Direction towards) {
  const float middle = mean_link(fine, from, towards);
  if (!(middle > 0.0F)) return 1.0F;
  float share = 1.0F;
  for (int across = 0; across < 3; ++across) {
    if (across == axis_of(towards)) continue;
    float sum = 2.0F * middle;
    for (const bool on : {false, true}) {
      const Direction d = direction(across, on);
      const bool ended = fine.end(from, d) != nullptr;
      sum += ended ? middle : mean_link(fine, from + fine.lattice.step(d), towards);
    }
    share *= sum / (4.0F * middle);
  }
  return share;
}

std::ptrdiff_t fine_node(const Lattice& fine, int i, int j, int k) {
  return fine.index(2 * i, 2 * j, 2 * k);
}

void take_node(const LatticeProblem& fine,
               std::ptrdiff_t fine_index,
               std::ptrdiff_t coarse_index,
               LatticeProblem& coarse) {
  const auto node = static_cast<std::size_t>(coarse_index);
  coarse.state[node] = LatticeProblem::inside;
  for (const Direction d : directions) {
    const LongLink link = long_link(fine, fine_index, d);
    if (link.ends) {
      coarse.ends.push_back(
          {static_cast<std::int32_t>(coarse_index), d, link.distance, link.distance, link.weight});
    } else if (!coarse.plain() && is_on(d)) {
      coarse.faces[static_cast<std::size_t>(axis_of(d))][node] =
          link.weight > 0.0F ? link.weight * share_beside(fine, fine_index, d) : 0.0F;
    }
  }
}

/// A sink is an area; a coarse cell holds the fine cells around its node, each by its share. What
/// would go to a node outside goes to the others.
void share_sinks(const LatticeProblem& fine, LatticeProblem& coarse) {
  std::vector<Sink> shares;
  for (const Sink& sink : fine.sinks) {
    const std::array<int, 3> at = fine.lattice.place(sink.node);
    std::array<std::ptrdiff_t, 8> to{};
    int found = 0;
    for (int corner = 0; corner < 8; ++corner) {
      const std::ptrdiff_t node = coarse.lattice.index((at[0] + (corner & 1)) / 2,
                                                       (at[1] + (corner >> 1 & 1)) / 2,
                                                       (at[2] + (corner >> 2 & 1)) / 2);
      if (coarse.has(node)) to[static_cast<std::size_t>(found++)] = node;
    }
    // half: strengths are in units of spacing
    const float share = found > 0 ? 0.5F * sink.strength / static_cast<float>(found) : 0.0F;
    for (int n = 0; n < found; ++n) {
      shares.push_back({static_cast<std::int32_t>(to[static_cast<std::size_t>(n)]), share});
    }
  }
  std::sort(
      shares.begin(), shares.end(), [](const Sink& a, const Sink& b) { return a.node < b.node; });
  for (const Sink& share : shares) {
    if (!coarse.sinks.empty() && coarse.sinks.back().node == share.node) {
      coarse.sinks.back().strength += share.strength;
    } else {
      coarse.sinks.push_back(share);
    }
  }
}

}  // namespace

const LinkEnd* LatticeProblem::end(std::ptrdiff_t node, Direction towards) const {
  if (state[static_cast<std::size_t>(node)] != at_end) return nullptr;
  const auto found = std::lower_bound(
      ends.begin(), ends.end(), std::tuple{node, towards}, [](const LinkEnd& e, const auto& key) {
        return std::tuple{static_cast<std::ptrdiff_t>(e.node), e.towards} < key;
      });
  const bool there = found != ends.end() && found->node == node && found->towards == towards;
  return there ? &*found : nullptr;
}

float LatticeProblem::link(std::ptrdiff_t node, Direction towards) const {
  if (plain()) return 1.0F;
  const std::ptrdiff_t lower = is_on(towards) ? node : node + lattice.step(towards);
  return faces[static_cast<std::size_t>(axis_of(towards))][static_cast<std::size_t>(lower)];
}

void LatticeProblem::put_in_order() {
  std::sort(ends.begin(), ends.end(), [](const LinkEnd& a, const LinkEnd& b) {
    return std::tie(a.node, a.towards) < std::tie(b.node, b.towards);
  });
  std::sort(
      sinks.begin(), sinks.end(), [](const Sink& a, const Sink& b) { return a.node < b.node; });
  for (const LinkEnd& end : ends) state[static_cast<std::size_t>(end.node)] = at_end;
}

std::size_t LatticeProblem::unknowns() const {
  return state.size() -
         static_cast<std::size_t>(std::count(state.data(), state.data() + state.size(), outside));
}

std::size_t LatticeProblem::cut_off() const {
  ZeroedArray<std::uint8_t> reached{state.size()};
  std::vector<std::int32_t> to_visit;
  std::size_t left = unknowns();
  const auto visit = [&](std::ptrdiff_t node) {
    std::uint8_t& seen = reached[static_cast<std::size_t>(node)];
    if (seen != 0) return;
    seen = 1;
    --left;
    to_visit.push_back(static_cast<std::int32_t>(node));
  };
  for (const LinkEnd& end : ends) visit(end.node);
  for (const Sink& sink : sinks) visit(sink.node);
  while (!to_visit.empty()) {
    const std::ptrdiff_t node = to_visit.back();
    to_visit.pop_back();
    for (const Direction d : directions) {
      const std::ptrdiff_t next = node + lattice.step(d);
      if (has(next) && link(node, d) > 0.0F && end(node, d) == nullptr) visit(next);
    }
  }
  return left;
}

void LatticeProblem::give_faces() {
  if (!plain()) return;
  for (ZeroedArray<float>& face : faces) {
    face = ZeroedArray<float>{lattice.size()};
    std::fill_n(face.data(), face.size(), 1.0F);
  }
}

LatticeProblem on_every_second_node(const LatticeProblem& fine) {
  LatticeProblem coarse;
  coarse.lattice = fine.lattice.every_second();
  coarse.state = ZeroedArray<std::uint8_t>{coarse.lattice.size()};
  if (!fine.plain()) {
    for (ZeroedArray<float>& face : coarse.faces) face = ZeroedArray<float>{coarse.lattice.size()};
  }
  for (int k = 1; k + 1 < coarse.lattice.nodes(2); ++k) {
    for (int j = 1; j + 1 < coarse.lattice.nodes(1); ++j) {
      for (int i = 1; i + 1 < coarse.lattice.nodes(0); ++i) {
        const std::ptrdiff_t from = fine_node(fine.lattice, i, j, k);
        if (fine.has(from)) take_node(fine, from, coarse.lattice.index(i, j, k), coarse);
      }
    }
  }
  coarse.put_in_order();
  share_sinks(fine, coarse);
  return coarse;
}

}  // namespace thickset
