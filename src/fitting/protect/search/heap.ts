/** A priority queue: what ranks highest comes out first. A plain binary heap. */
export interface Heap<Item> {
  push(rank: number, item: Item): void;
  /** The highest-ranking item, or undefined when none is left. */
  pop(): { readonly rank: number; readonly item: Item } | undefined;
}

export const makeHeap = <Item>(): Heap<Item> => {
  const entries: { rank: number; item: Item }[] = [];
  const rankAt = (index: number): number => entries[index]?.rank ?? Number.NEGATIVE_INFINITY;
  const swap = (a: number, b: number): void => {
    const [atA, atB] = [entries[a], entries[b]];
    if (atA && atB) [entries[a], entries[b]] = [atB, atA];
  };
  return {
    push(rank, item) {
      entries.push({ rank, item });
      let index = entries.length - 1;
      while (index > 0) {
        const parent = (index - 1) >> 1;
        if (rankAt(parent) >= rankAt(index)) return;
        swap(parent, index);
        index = parent;
      }
    },
    pop() {
      const [top] = entries;
      const last = entries.pop();
      if (entries.length > 0 && last) {
        entries[0] = last;
        let index = 0;
        for (;;) {
          const left = 2 * index + 1;
          const larger = rankAt(left + 1) > rankAt(left) ? left + 1 : left;
          if (rankAt(larger) <= rankAt(index)) break;
          swap(index, larger);
          index = larger;
        }
      }
      return top;
    },
  };
};
