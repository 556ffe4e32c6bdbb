/** The form of a data sheet: which figures it asks for, in which unit, in which section. */
import type { Family } from "~/core/shop/entities/products";
import { bounds, type QuantityName } from "~/core/units";

/** A figure in the sheet by its path; stacks and wraps by their material. */
export type FigureField = {
  path: string;
  unit: string;
  /** What one of the form's unit is in the sheet's. */
  times: number;
  min: number;
  max: number;
  decimals: number;
  note?: string;
  /** It has a short end as well, by which only the likely time goes. */
  hasShortEnd?: true;
  /** Some films never do it: a box beside the figure says so. */
  mayBeNever?: true;
};

const minutesIn = { min: 1, h: 60, days: 1440 } as const;

const time = (path: string, unit: keyof typeof minutesIn, more: Partial<FigureField> = {}): FigureField => ({
  path,
  unit,
  times: minutesIn[unit],
  min: unit === "min" ? 1 : 0.01,
  max: bounds.durationMin.max / minutesIn[unit],
  decimals: unit === "min" ? 0 : 4,
  ...more,
});

const figure = (path: string, name: QuantityName, more: Partial<FigureField> = {}): FigureField => ({
  path,
  unit: bounds[name].unit,
  times: 1,
  min: bounds[name].min,
  max: bounds[name].max,
  decimals: bounds[name].decimals,
  ...more,
});

const milestone = (path: string, unit: keyof typeof minutesIn, more: Partial<FigureField> = {}) =>
  time(path, unit, { hasShortEnd: true, ...more });

export type FormSection = {
  id: "times" | "between" | "stacks" | "air" | "film" | "mix" | "joint" | "life";
  words: string;
  note?: string;
  fields: FigureField[];
};

const sections: FormSection[] = [
  {
    id: "times",
    words: "Times",
    note: "As the can says, in its own air. Where it gives a range, the long end is the time and the short end stands beside it. Leave out what it does not say: the type’s usual time stands in.",
    fields: [
      milestone("setToTouch", "min"),
      milestone("tackFree", "min"),
      milestone("recoatOpens", "h"),
      milestone("handle", "h"),
      milestone("lightUse", "h"),
      milestone("pressTogether", "h", { mayBeNever: true }),
      milestone("fullCure", "days"),
    ],
  },
  {
    id: "between",
    words: "Between coats",
    fields: [
      time("recoatClosesMin", "h", { note: "After it, the next coat wants a scuff." }),
      time("recoatReopensMin", "h", { note: "Only where a coat in between would wrinkle." }),
      time("wipeFromMin", "min"),
      time("wipeLatestMin", "min"),
    ],
  },
  {
    id: "stacks",
    words: "Stacks and wraps",
    fields: [
      time("stackWith.felt", "h"),
      time("stackWith.paper", "h"),
      time("stackWith.foam", "h"),
      time("wrap.snug-paper", "h"),
      time("wrap.snug-blanket", "h"),
      time("wrap.plastic", "h", { mayBeNever: true }),
    ],
  },
  {
    id: "air",
    words: "Air",
    fields: [
      figure("minimumCelsius", "airCelsius"),
      figure("maximumCelsius", "airCelsius"),
      figure("humidityLimitPercent", "humidityPercent"),
      figure("dewSpreadCelsius", "dewSpreadCelsius"),
      figure("referenceCelsius", "airCelsius", { note: "The air in which its times were measured." }),
      figure("referenceHumidityPercent", "humidityPercent"),
    ],
  },
  {
    id: "film",
    words: "Film",
    fields: [
      figure("volumeSolidsPercent", "volumeSolidsPercent"),
      figure("wetFilmMicrometres", "wetFilmMicrometres"),
      figure("spreadSquareMetresPerLitre", "spreadSquareMetresPerLitre"),
      figure("densityGramsPerLitre", "densityGramsPerLitre"),
      figure("vocGramsPerLitre", "vocGramsPerLitre"),
    ],
  },
  {
    id: "mix",
    words: "Mix",
    fields: [
      figure("thinParts.product", "parts"),
      figure("thinParts.thinner", "parts"),
      figure("thinLimitPercent", "thinLimitPercent", { note: "Of the product’s own volume: 3 to 1 is 33 %." }),
      figure("hardenerPartsPerMille", "hardenerPartsPerMille", { note: "1000 is one to one, 100 is ten to one." }),
      time("inductionMin", "min"),
      time("potLifeMin", "min"),
    ],
  },
  {
    id: "joint",
    words: "Joint",
    fields: [
      time("openTimeMin", "min"),
      time("clampMin", "min"),
      time("fullStrengthMin", "h"),
      figure("chalkCelsius", "chalkCelsius"),
    ],
  },
  {
    id: "life",
    words: "Life of a can",
    fields: [figure("shelfUnopenedDays", "shelfDays"), figure("shelfOpenedDays", "shelfDays")],
  },
];

/** A glue is asked how it holds a joint, first of all, and not for films; everything else the other way round. */
export const sectionsOf = (family: Family): FormSection[] => {
  const isOfGlue = ({ id }: FormSection) => id === "joint";
  if (family !== "glue") return sections.filter((section) => !isOfGlue(section));
  const ofFilms: FormSection["id"][] = ["times", "between", "stacks"];
  return [...sections.filter(isOfGlue), ...sections.filter(({ id }) => id !== "joint" && !ofFilms.includes(id))];
};

export const fieldsOf = (family: Family): FigureField[] => sectionsOf(family).flatMap(({ fields }) => fields);
