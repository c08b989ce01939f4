/** Who is told of what happens. */
export interface Ears<Item> {
  listen(listener: (item: Item) => void): void;
  tell(item: Item): void;
}

/** How many faults a way to a desk keeps for its first listener. */
export const faultsKept = 8;

/** What happens before anyone listens is kept for the first who does: the first `mostKept` of it. */
export const makeEars = <Item>(mostKept = 0): Ears<Item> => {
  const listeners: ((item: Item) => void)[] = [];
  const kept: Item[] = [];
  return {
    listen: (listener) => {
      listeners.push(listener);
      for (const item of kept.splice(0)) listener(item);
    },
    tell: (item) => {
      if (listeners.length === 0 && kept.length < mostKept) kept.push(item);
      for (const listener of listeners) listener(item);
    },
  };
};
