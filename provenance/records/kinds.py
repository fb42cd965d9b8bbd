"""The defined words of the records: kinds of source, stances, categories and the like."""

from enum import StrEnum


class SourceKind(StrEnum):
    """What a source is."""

    PHOTOGRAPH = "photograph"
    FILM = "film"
    ARTEFACT = "artefact"
    SURVEY = "survey"
    ANALYSIS = "analysis"
    DRAWING = "drawing"
    SPECIFICATION = "specification"
    MANUAL = "manual"
    CATALOGUE = "catalogue"
    LOGBOOK = "logbook"
    REPORT = "report"
    LETTER = "letter"
    NEWSPAPER = "newspaper"
    ORAL_HISTORY = "oral-history"
    BOOK = "book"
    OPINION = "opinion"
    ARTWORK = "artwork"
    NOTES = "notes"
    SCALE_MODEL = "scale-model"
    MODEL_3D = "3d-model"
    WEBSITE = "website"


class Derivation(StrEnum):
    """How one source was made from another."""

    FACSIMILE = "facsimile"
    PRINT = "print"
    CROP = "crop"
    SCAN = "scan"
    RECORDING = "recording"
    TRANSCRIPTION = "transcription"
    TRANSLATION = "translation"
    EXTRACT = "extract"
    CITES = "cites"
    REDRAWN = "redrawn"
    CAST = "cast"
    MEASURED_FROM = "measured-from"
    SCALED_FROM = "scaled-from"
    ENHANCED = "enhanced"


class KnownBy(StrEnum):
    """How the individual machine in a source is known."""

    NUMBER = "number"
    CAPTION = "caption"
    LIKENESS = "likeness"


class Aspect(StrEnum):
    """What a feature is about."""

    FORM = "form"
    DIMENSION = "dimension"
    POSITION = "position"
    MATERIAL = "material"
    FINISH = "finish"
    MARKING = "marking"
    PRESENCE = "presence"
    FIT = "fit"
    QUANTITY = "quantity"
    TECHNIQUE = "technique"


class FeatureKind(StrEnum):
    """What sort of value a feature has."""

    CHOICE = "choice"
    TEXT = "text"
    QUANTITY = "quantity"
    PRESENCE = "presence"


class Changes(StrEnum):
    """Whether a feature changes from one example to the next, or during a machine's life."""

    AT_BUILD = "at-build"
    IN_SERVICE = "in-service"


class Stance(StrEnum):
    """Whether an item speaks for a value or against it."""

    SUPPORTS = "supports"
    CONTRADICTS = "contradicts"


class How(StrEnum):
    """How an item speaks of a value, the strongest first."""

    MEASURED = "measured"
    SHOWS = "shows"
    STATES = "states"
    IMPLIES = "implies"
    ANALOGY = "analogy"


class Legibility(StrEnum):
    """How well the place can be read."""

    CLEAR = "clear"
    DOUBTFUL = "doubtful"


class Condition(StrEnum):
    """The state of the piece that was measured."""

    SOUND = "sound"
    WORN = "worn"
    CORRODED = "corroded"
    DISTORTED = "distorted"


class SignSeen(StrEnum):
    """Whether a sign can be seen in a picture."""

    SEEN = "seen"
    NOT_SEEN = "not-seen"
    OUT_OF_VIEW = "out-of-view"


class Expected(StrEnum):
    """How often an option shows a sign."""

    ALWAYS = "always"
    NEVER = "never"
    SOMETIMES = "sometimes"


class Ruling(StrEnum):
    """What was ruled on two sources that look like copies of one another."""

    OPEN = "open"
    COPY = "copy"
    DISTINCT = "distinct"


class Access(StrEnum):
    """Who may see a source."""

    OPEN = "open"
    TEAM = "team"
    CLOSED = "closed"


class Publish(StrEnum):
    """Whether a source may be published."""

    ALLOWED = "allowed"
    REFUSED = "refused"
    ASK = "ask"
