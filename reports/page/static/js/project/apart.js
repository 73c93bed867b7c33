/** What a backup brought that is not used: other decisions of pattern files. */

export const apartWords = ({ patterns: { apart = [] } }) => apart.length > 0
  && `Something else was decided of ${apart.join(", ")}: what is decided here stays, and the other is kept with the pattern file.`;
