/** Weighings of one lift may be some days apart [d]. Convention. */
export const SAME_LIFT_DAYS = 45
