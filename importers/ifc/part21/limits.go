package part21

// Limits. None comes from a standard; each bounds memory or time on a file
// made to exhaust them.
const (
	// MaxFile is the size up to which offsets fit four bytes.
	MaxFile = 1<<32 - 1
	// MaxRecord bounds one instance: a face set of two million triangles.
	MaxRecord = 128 << 20
	// MaxDepth bounds lists within lists; IFC needs three.
	MaxDepth = 32
	// MaxInflated bounds what an archive's model may grow to, as it is held in
	// memory.
	MaxInflated = 1 << 30
	// MaxRatio bounds inflated over packed size. Models pack 5 to 20 times;
	// blanks pack a thousand times.
	MaxRatio = 100
	// MaxMembers bounds the entries of an archive that are looked at.
	MaxMembers = 1000
	// MaxDuplicates bounds how many repeated ids are told apart by name.
	MaxDuplicates = 100
	// MaxStrays bounds how many statements that are no instances are told.
	MaxStrays = 20
)
