// SPDX-License-Identifier: Apache-2.0

package app

import (
	"github.com/spf13/cobra"

	"boardhand/internal/licences"
	"boardhand/internal/terminal"
)

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
