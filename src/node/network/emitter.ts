/** Who is told of what happens. */
export interface Emitter<Item> {
  listen(listener: (item: Item) => void): void;
  emit(item: Item): void;
}

/** How many faults a way to a desk keeps for its first listener. */
export const faultsKept = 8;

/** What happens before anyone listens is kept for the first who does: the first `mostKept` of it. */
export const makeEmitter = <Item>(mostKept = 0): Emitter<Item> => {
  const listeners: ((item: Item) => void)[] = [];
  const kept: Item[] = [];
  return {
    listen: (listener) => {
      listeners.push(listener);
      for (const item of kept.splice(0)) listener(item);
    },
    emit: (item) => {
      if (listeners.length === 0 && kept.length < mostKept) kept.push(item);
      for (const listener of listeners) listener(item);
    },
  };
};
