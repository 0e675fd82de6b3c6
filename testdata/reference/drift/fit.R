suppressMessages({library(glmmTMB);library(jsonlite)})
wide<-read.csv("readings.csv",colClasses=c("character","character","character","character","numeric","numeric","numeric"))
d<-do.call(rbind,lapply(c("L","a","b"),function(k) data.frame(wide[,1:4],trait=k,y=wide[[k]])))
d$trait<-factor(d$trait,levels=c("L","a","b"))
for(k in c("plant","season","day","camera")) d[[k]]<-factor(d[[k]])
d$ps<-interaction(d$plant,d$season,drop=TRUE);d$pd<-interaction(d$plant,d$day,drop=TRUE)
d$pct<-interaction(d$plant,d$camera,d$trait,drop=TRUE);d$session<-interaction(d$day,d$camera,drop=TRUE)
control<-glmmTMBControl(optimizer=optim,optArgs=list(method="BFGS"),optCtrl=list(reltol=1e-14,maxit=2000))
fit<-function(extra) glmmTMB(as.formula(paste("y~0+trait:plant+trait:season+trait:camera",extra,
 "+us(0+trait|ps)+us(0+trait|pd)+(1|pct)+diag(0+trait|session)")),dispformula=~0+trait,REML=TRUE,data=d,control=control)
say<-function(m){v<-VarCorr(m)$cond;s<-function(x){list(sd=as.numeric(attr(x,"stddev")),cor=matrix(as.numeric(attr(x,"correlation")),nrow(x)))}
 list(logLik=as.numeric(logLik(m)),wobble=s(v$ps),plant_day=s(v$pd),apparatus=as.numeric(attr(v$pct,"stddev")),session=as.numeric(attr(v$session,"stddev")),
 head=exp(as.numeric(fixef(m)$disp)/2))}
m0<-fit("")
print(m0$fit$convergence);print(m0$sdr$pdHess)
# One plant is given shifts of its own in the second and third season.
p<-levels(d$plant)[4]
d$own2<-as.numeric(d$plant==p&d$season=="2022");d$own3<-as.numeric(d$plant==p&d$season=="2023")
m1<-fit("+trait:own2+trait:own3")
print(m1$fit$convergence);print(m1$sdr$pdHess)
# vcov() also holds what is uncertain of the variances, so the covariance at given variances is worked out by itself.
cov<-function(m){v<-VarCorr(m)$cond;t<-as.integer(d$trait);o<-function(f,s) outer(f,f,"==")*s[t,t]
 X<-getME(m,"X");s<-exp(fixef(m)$disp)
 V<-o(as.integer(d$ps),matrix(as.numeric(v$ps),3))+o(as.integer(d$pd),matrix(as.numeric(v$pd),3))+outer(as.integer(d$pct),as.integer(d$pct),"==")*as.numeric(v$pct)+
  o(as.integer(d$session),diag(attr(v$session,"stddev")^2))+diag(as.numeric(s)[t])
 X<-X[,colSums(X!=0)>0];C<-solve(t(X)%*%solve(V,X));print(max(abs(C%*%t(X)%*%solve(V,d$y)-fixef(m)$cond)));C}
b<-fixef(m1)$cond;V<-cov(m1);k<-grep("own[23]$",names(b));print(names(b)[k])
out<-list(model="multivariate REML, glmmTMB, long format: see fit.R",software=paste(R.version.string,"; glmmTMB",packageVersion("glmmTMB")),
 source="readings.csv beside this file was made up by us (14 plants, 252 readings); the fits are R's, by fit.R",
 all=say(m0),own=c(say(m1),list(plant=p,terms=names(b)[k],est=as.numeric(b[k]),cov=matrix(as.numeric(V[k,k]),length(k)))))
write(toJSON(out,digits=10,auto_unbox=TRUE,pretty=TRUE),"fit.json")
