package main
import ("testing";"context";"io";"os";"runtime";"runtime/pprof";"fmt";"time")
func TestZZProf(t *testing.T){
 d:=os.Getenv("ZZDIR"); var a,c runtime.MemStats
 runtime.ReadMemStats(&a)
 if os.Getenv("ZZHEAP")!="" { go func(){ for i:=0;;i++{ time.Sleep(300*time.Millisecond); runtime.GC(); f,_:=os.Create(fmt.Sprintf("/tmp/heap%02d.prof",i)); pprof.Lookup("heap").WriteTo(f,0); f.Close(); var m runtime.MemStats; runtime.ReadMemStats(&m); fmt.Println(i,m.HeapAlloc>>20)}}() }
 if err:=agesCommand(context.Background(),[]string{"-plants",d+"/plants.csv","-cuts",d+"/cuts.csv"},io.Discard);err!=nil{t.Fatal(err)}
 runtime.ReadMemStats(&c); fmt.Println("alloc MB",(c.TotalAlloc-a.TotalAlloc)>>20,"sys",c.Sys>>20)
}
