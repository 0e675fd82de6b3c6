package httpapi

import (
	"archive/zip"
	"context"
	"io"
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/tables"
)

// allTables is the file that holds every table.
const allTables = "all.zip"

// getTables answers GET /api/tables?lang=en: which tables there are, what they are called in that language and how many
// rows they have.
func (config Config) getTables(c *gin.Context) {
	all, l, ok := config.tablesFor(c)
	if !ok {
		return
	}
	list := make([]gin.H, len(all))
	for i, t := range all {
		list[i] = gin.H{"table": t.Name.English, "name": t.Name.In(l), "rows": len(t.Rows)}
	}
	c.JSON(http.StatusOK, gin.H{"tables": list})
}

// getTable answers GET /api/tables/:file?lang=en, where the file is the English name of a table with .csv, or all.zip.
func (config Config) getTable(c *gin.Context) {
	all, l, ok := config.tablesFor(c)
	if !ok {
		return
	}
	file := c.Param("file")
	if file == allTables {
		config.stream(c, "tables", "application/zip", ".zip", func(_ context.Context, to io.Writer) error { return zipTables(to, all, l) })
		return
	}
	for _, t := range all {
		if file == t.FileName(tables.English) {
			config.stream(c, t.Name.In(l), "text/csv; charset=utf-8", ".csv", func(_ context.Context, to io.Writer) error { return t.WriteCSV(to, l) })
			return
		}
	}
	refuse(c, http.StatusNotFound, "not_found", "There is no such table.")
}

// tablesFor lays out the farm in the language that is asked for, or answers why not.
func (config Config) tablesFor(c *gin.Context) (all []tables.Table, l tables.Language, ok bool) {
	l = tables.Language(c.DefaultQuery("lang", string(tables.English)))
	if l != tables.English && l != tables.Spanish {
		refuse(c, http.StatusBadRequest, "malformed", "The language of tables is en or es.")
		return nil, l, false
	}
	state, _, err := config.Farm.State(c.Request.Context())
	if err != nil {
		config.failed(c, "the tables were not read", err)
		return nil, l, false
	}
	return tables.Of(farm.Read(crop.FarmID(config.Farm.Farm()), state), state, crop.DateOf(config.Now())), l, true
}

func zipTables(to io.Writer, all []tables.Table, l tables.Language) error {
	z := zip.NewWriter(to)
	for _, t := range all {
		file, err := z.CreateHeader(&zip.FileHeader{Name: strings.ToLower(t.FileName(l)), Method: zip.Deflate})
		if err == nil {
			err = t.WriteCSV(file, l)
		}
		if err != nil {
			return err
		}
	}
	return z.Close()
}
