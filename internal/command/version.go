package command

import "runtime/debug"

// version returns what the build says of itself.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(built without version)"
	}
	return info.Main.Version
}
