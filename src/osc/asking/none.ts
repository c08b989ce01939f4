import type { Asking } from './asking.js';

/** No asking: the desk tells nothing. */
export const none: Asking<'none'> = {
  name: 'none',
  tell: () => 'nothing can be asked for',
};
