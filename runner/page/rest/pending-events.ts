// Questions of the in-page code to the page's own world (watch-timers.ts): who prevents the event says yes.
/** Is a timer due soon? */
export const PENDING = 'gloam-pending';
/** Is one due later? */
export const PENDING_LONG = 'gloam-pending-long';
