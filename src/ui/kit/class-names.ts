/** Joins the class names that are there; the kit's parts use it to let a screen add its own. */
export const classNames = (...names: (string | false | undefined)[]) => names.filter(Boolean).join(" ");
