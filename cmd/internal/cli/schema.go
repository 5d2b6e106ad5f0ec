package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"sillwright/schema"
)

func newSchema(s streams) *cobra.Command {
	return &cobra.Command{
		Use:       "schema [NAME]",
		Short:     "Print a JSON Schema for an editor",
		Long:      "Print the JSON Schema (draft-07) of a format; without a name, that of a door spec. Names: " + strings.Join(schema.Names(), ", ") + ".",
		Example:   "  sillwright schema door > door.schema.json\n  # first line of a YAML spec, for editors that speak the YAML language server:\n  # yaml-language-server: $schema=door.schema.json",
		ValidArgs: schema.Names(),
		Args:      cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			name := "door"
			if len(args) == 1 {
				name = args[0]
			}
			src, err := schema.Source(name)
			if err != nil {
				return err
			}
			_, err = s.out.Write(src)
			return err
		},
	}
}

func newVersion(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(s.out, "sillwright", version())
			return err
		},
	}
}
