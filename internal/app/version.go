// SPDX-License-Identifier: Apache-2.0

package app

import (
	"runtime/debug"

	"github.com/spf13/cobra"

	"boardhand/internal/licences"
	"boardhand/internal/terminal"
)

// version is what the program knows of its own build.
type version struct {
	Version string `json:"version"`          // of the tag it was built at, or what Go makes of the commit
	Commit  string `json:"commit,omitempty"` // of the tree it was built from
	Changed bool   `json:"changed"`          // the tree had changes that were not committed
	Time    string `json:"time,omitempty"`   // of the commit
	Go      string `json:"go"`
}

func versionCommand(o *terminal.Out) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version, the commit and the Go it was built with",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return printVersion(o, versionOf(buildInfo()))
		},
	}
}

// versionFlag has `boardhand --version` say what `boardhand version` does: people try
// either.
func versionFlag(root *cobra.Command, o *terminal.Out) {
	isWanted := root.Flags().Bool("version", false, "print the version, as the command version does")
	help := root.RunE
	root.RunE = func(c *cobra.Command, args []string) error {
		if *isWanted {
			return printVersion(o, versionOf(buildInfo()))
		}
		return help(c, args)
	}
}

// buildInfo is the build's own record; nil where the build left it out.
func buildInfo() *debug.BuildInfo {
	info, _ := debug.ReadBuildInfo()
	return info
}

// versionOf reads the build's own record; a build outside a checkout knows no
// commit.
func versionOf(info *debug.BuildInfo) version {
	v := version{Version: "unknown", Go: "unknown"}
	if info == nil {
		return v
	}
	v.Go = info.GoVersion
	if info.Main.Version != "" {
		v.Version = info.Main.Version
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			v.Commit = s.Value
		case "vcs.modified":
			v.Changed = s.Value == "true"
		case "vcs.time":
			v.Time = s.Value
		}
	}
	return v
}

func printVersion(o *terminal.Out, v version) error {
	if o.JSON {
		return o.Object(v)
	}
	commit := v.Commit
	switch {
	case commit == "":
		commit = "not recorded (built outside a checkout, or with -buildvcs=false)"
	case v.Changed:
		commit += ", with changes not committed"
	}
	o.Printf("boardhand %s\ncommit %s\n", v.Version, commit)
	if v.Time != "" {
		o.Printf("of %s\n", v.Time)
	}
	o.Printf("built with %s\n", v.Go)
	return nil
}

func licencesCommand(o *terminal.Out) *cobra.Command {
	return &cobra.Command{
		Use:   "licences",
		Short: "Print the licence texts of all that is linked in",
		Args:  cobra.NoArgs,
		RunE:  func(*cobra.Command, []string) error { return printLicences(o) },
	}
}

func printLicences(o *terminal.Out) error {
	all, err := licences.All()
	if err != nil {
		return err
	}
	if o.JSON {
		return o.Object(struct {
			Modules []licences.Module `json:"modules"`
		}{all})
	}
	for _, m := range all {
		name := m.Path
		if m.Version != "-" {
			name += " " + m.Version
		}
		for _, f := range m.Texts {
			o.Printf("==== %s: %s\n\n%s\n", name, f.Name, f.Text)
		}
	}
	return nil
}
