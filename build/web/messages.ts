/* What is said between the page, its worker, the service worker and `calc/app/page.py`, whose
   docstring tells what each request and reply is for.  All are unions told apart by `kind`. */

/** What a field of a form holds: a text, or rows of texts. */
export type Raw = string | string[][];
export type Inputs = Record<string, Raw>;

/** A reading that was typed into an answer's box: the key of the step, and the text. */
export type Reading = string[];

/* ——— Page to Python: the texts of the worker's messages ——— */

interface Asked {
  calculator: string;
  /** For the page alone: the inputs stand as before a reload, typed by nobody since. */
  isRestored?: boolean;
  /** For the page alone: what goes into the answer's boxes. */
  readings?: Reading[];
  /** For the page alone: it has just been opened, and shows the sheet of other figures. */
  isFirst?: boolean;
}

export interface AnswerRequest extends Asked {
  kind: "answer";
  inputs: Inputs;
}
export interface OpenRequest extends Asked {
  kind: "open";
  query: string;
  kept: Inputs;
  /** The names of the page's calculators, where the query is that of its address. */
  among?: string[];
}
export interface FillRequest extends Asked {
  kind: "fill";
  inputs: Inputs;
}
export interface FileRequest extends Asked {
  kind: "file";
  text: string;
}
export interface TakeRequest extends Asked {
  kind: "take";
  system: Inputs;
  about: number;
}
export interface GiveRequest extends Asked {
  kind: "give";
  system: Inputs;
  about: number;
  inputs: Inputs;
}
export interface StreamRequest extends Asked {
  kind: "stream";
  inputs: Inputs;
  first: boolean;
  stop?: boolean;
}
export interface StartRequest extends Asked {
  kind: "start";
  start: number;
  inputs: Inputs;
}
export interface HandOverRequest extends Asked {
  kind: "hand-over";
  inputs: Inputs;
  as: "text" | "json" | "csv" | "kit-csv" | "file" | "template";
  /** The shop's own prices by article, with a kit list. */
  prices?: Record<string, string>;
}
export interface QrRequest extends Asked {
  kind: "qr";
  link: string;
}
/** The code of a link for the corner of a printed sheet, as large as paper needs it. */
export interface QrPaperRequest extends Asked {
  kind: "qr-paper";
  link: string;
}
export interface QrFileRequest extends Asked {
  kind: "qr-file";
  inputs: Inputs;
}
export interface SoundRequest extends Asked {
  kind: "sound";
  inputs: Inputs;
  /** Bytes that have come already. */
  from: number;
}
/** A pasted spec sheet to be read; `current` is what is typed already, by key. */
export interface ReadRequest extends Asked {
  kind: "read";
  about: "amplifier" | "speaker";
  text: string;
  current: Record<string, string>;
}

/** A spreadsheet's first sheet as the text of a list. */
export interface SpreadsheetRequest extends Asked {
  kind: "spreadsheet";
  /** The file in base 64. */
  data: string;
}
/** An amplifier to be put into the stock list of this device. */
export interface StockRequest extends Asked {
  kind: "stock";
  shelf: string;
  /** Rows of a plan's form; of several the planned one is taken. */
  amplifiers: string[][];
  /** One of the same name is replaced. */
  replace: boolean;
}

/** Requests whose replies are shown in the card, the newest alone. */
export type CardRequest =
  | AnswerRequest
  | OpenRequest
  | FillRequest
  | FileRequest
  | TakeRequest
  | GiveRequest
  | StreamRequest
  | StartRequest;

/** Requests for something to be taken away. */
export type AwayRequest = HandOverRequest | QrRequest | QrPaperRequest | QrFileRequest;

export type Request =
  | CardRequest
  | AwayRequest
  | SoundRequest
  | SpreadsheetRequest
  | StockRequest
  | ReadRequest;

/* ——— Python to page ——— */

/** One wrong input.  Where it is stands in `field`, `row` (from 1) and `column`, never in words. */
export interface FieldError {
  field: string;
  row: number | null;
  column: string | null;
  given: string;
  message: string;
}

/** What comes with a form that was filled; `abouts` and `about` where the system filled it. */
interface FormParts {
  form?: string;
  notices?: string;
  abouts?: string[];
  about?: number;
}
export interface AnswerReply extends FormParts {
  kind: "answer";
  html: string;
  sentence: string;
  query: string;
  /** The name that readings are kept under: the query, and what tells its system besides. */
  kept_as: string;
  /** Verdicts by the heading of the step that they are about. */
  marks: Record<string, string>;
  /** A long answer goes on. */
  more?: boolean;
}
export interface RefusedReply extends FormParts {
  kind: "refused";
  errors: FieldError[];
  more_errors: number;
  html: string;
}
/** Nothing was made, or there is no reply that a page can show; `text` says why. */
export interface FailedReply {
  kind: "failed";
  text: string;
}
/** Nothing was taken or given; `text` says why. */
export interface ToldReply {
  kind: "told";
  text: string;
}
/** The fields of the system with what was given back. */
export interface GivenReply {
  kind: "given";
  system: Inputs;
  text: string;
}
export interface HandedOverReply {
  kind: "handed-over";
  text: string;
  name: string;
}
export interface SoundReply {
  kind: "sound";
  /** A part of the file in base 64. */
  wav: string;
  /** Bytes of the whole file. */
  size: number;
  name: string;
}

/** What was read from a pasted text, as `calc/reading/proposal.py` shows it. */
export interface ProposalReply {
  kind: "proposal";
  html: string;
  figures: number;
}

/** The stock list with an amplifier put into it; `shelf` is null where it is as it was. */
export interface StockedReply {
  kind: "stocked";
  shelf: string | null;
  /** Another of this name stands in it: it is replaced only when that is said. */
  is_there: boolean;
  text: string;
}

/** Replies that are shown in the card. */
export type CardReply = AnswerReply | RefusedReply | FailedReply | ToldReply | GivenReply;

export type Reply = CardReply | HandedOverReply | SoundReply | StockedReply | ProposalReply;

/** What may come for a request. */
export type ReplyTo<R extends Request> = R extends CardRequest
  ? CardReply
  : R extends SoundRequest
    ? SoundReply | RefusedReply | FailedReply
    : R extends StockRequest
      ? StockedReply | ToldReply | FailedReply
      : R extends ReadRequest
        ? ProposalReply | FailedReply
        : HandedOverReply | RefusedReply | FailedReply;

/* ——— Page and worker ——— */

export type ToWorker =
  /** A request as text. */
  | { kind: "request"; id: number; text: string }
  /** A request that may come soon: no reply comes to it. */
  | { kind: "practise"; text: string }
  /** Tell (again) whether Python has started. */
  | { kind: "report" }
  /** Tell the lock that is held while this worker lives. */
  | { kind: "life" };

/** How Python was started: from the memory image, or by importing. */
export type Way = "image" | "plain";

export type FromWorker =
  /** `edition`: what the worker was built with, which must be what the page was built with. */
  | { kind: "ready"; way: Way; edition: string }
  /** Python cannot be started; nothing more will come. */
  | { kind: "failed"; reason: string }
  | { kind: "reply"; id: number; text: string }
  /** This one request ended in an error. */
  | { kind: "broken"; id: number; reason: string }
  /** So did Python: no request will be answered any more. */
  | { kind: "crashed"; reason: string }
  /** The lock's name; not where the browser has no locks. */
  | { kind: "alive"; life: string };

/* ——— Page and service worker ——— */

export type ToServiceWorker =
  | { kind: "use-new-version" }
  | { kind: "edition" }
  /** Look whether all is there and whole; `isPlain`: the page could not use the memory image. */
  | { kind: "check"; isPlain: boolean };
export type FromServiceWorker =
  | { kind: "saving"; percent: number }
  | { kind: "no-room" }
  /** What the pages of this version are stamped with. */
  | { kind: "edition"; edition: string }
  /** So many files of the list are missing, and could not be fetched. */
  | { kind: "checked"; missing: number; of: number };
