package ifc

// Codes of the exceptions this importer gives. They are stable; Codes says what
// each is about.
const (
	CodeWallUnread      = "wall-unreadable"
	CodeWallUnsupported = "wall-unsupported"
	CodeWallNoBody      = "wall-no-body"
	CodeWallNoSides     = "wall-no-sides"
	CodeWallLegs        = "wall-in-legs"
	CodeWallKind        = "wall-kind"
	CodeWallDoubt       = "wall-doubtful"
	CodeCurtainUnread   = "curtain-wall-unread"
	CodeOpeningUnread   = "opening-unreadable"
	CodeOpeningMisses   = "opening-misses-wall"
	CodeOpeningDoubt    = "opening-doubtful"
	CodeDoorAlone       = "door-without-opening"
	CodeFillingUnread   = "filling-unreadable"
	CodeDeckUnread      = "deck-unreadable"
	CodeRoomUnread      = "room-unreadable"
	CodeColumnUnread    = "column-unreadable"
	CodeStoreyUnread    = "storey-unreadable"
	CodeMaterialUnread  = "material-unreadable"
	CodeRelationUnread  = "relation-unread"
	CodeElementUnread   = "element-unreadable"
	CodeDuplicate       = "duplicate-id"
	CodeStatement       = "statement-unread"
	CodeNoWalls         = "no-walls"
)

// Codes says what each exception of this importer is about.
var Codes = map[string]string{
	CodeWallUnread:      "a wall whose shape is faulty; it is left out",
	CodeWallUnsupported: "a wall of a kind of shape that is valid and not supported; it is left out",
	CodeWallNoBody:      "a wall without a shape; it is left out",
	CodeWallNoSides:     "a wall without two sides that face apart; it is left out",
	CodeWallLegs:        "a wall that turns corners or falls into pieces; each is a wall of its own",
	CodeWallKind:        "a type of wall that is not boarded as a matter of course, and why",
	CodeWallDoubt:       "a wall that was read and should be looked at",
	CodeCurtainUnread:   "a curtain wall without a usable shape",
	CodeOpeningUnread:   "an opening whose shape is faulty; the wall has no hole there",
	CodeOpeningMisses:   "an opening that does not meet the wall it is said to be in",
	CodeOpeningDoubt:    "an opening that was read and should be looked at",
	CodeDoorAlone:       "a door or window in a wall that has no hole for it; its outer size is taken",
	CodeFillingUnread:   "a door or window that cannot be read; its opening is taken as framed",
	CodeDeckUnread:      "a slab, roof or ceiling whose shape is faulty; heights to it are not known",
	CodeRoomUnread:      "a space whose shape is faulty",
	CodeColumnUnread:    "a column whose shape is faulty",
	CodeStoreyUnread:    "a storey that cannot be read",
	CodeMaterialUnread:  "a material that cannot be read",
	CodeRelationUnread:  "a relation that cannot be read; it is left out",
	CodeElementUnread:   "an element that is referred to and cannot be read",
	CodeDuplicate:       "an instance name that is used twice; the first counts",
	CodeStatement:       "a statement among the data that is no instance",
	CodeNoWalls:         "a model without any wall",
}
