/** An invitation's secret goes after the #, where it stays in the browser and reaches no server's log. */
export const joinAddress = (origin: string, secret: string): string => `${origin}/join#${secret}`;
