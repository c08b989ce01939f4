/** As wide as a terminal always is, with room for whoever quotes it. */
export const pageColumns = 78;

export const thinRule = '-'.repeat(pageColumns);
export const thickRule = '='.repeat(pageColumns);
